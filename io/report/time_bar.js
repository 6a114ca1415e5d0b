// Plays, pauses, steps and scrubs through the moments.
const TimeBar = (() => {
  const between = 140;  // ms from one moment to the next
  let playing = false, last = 0;

  function go(frame) {
    State.change({ frame: Math.min(Times.length - 1, Math.max(0, frame)) });
  }
  function tick(now) {
    if (!playing) return;
    if (now - last >= between) {
      last = now;
      if (State.frame + 1 >= Times.length) return setPlaying(false);
      go(State.frame + 1);
    }
    requestAnimationFrame(tick);
  }
  function setPlaying(on) {
    playing = on;
    Dom.byId('play-words').textContent = on ? 'Pause' : 'Play';
    if (!on) return;
    if (State.frame + 1 >= Times.length) go(0);
    if (!Words.mapNamed(State.map).moving) State.change({ map: 'temperature' });
    last = 0;
    requestAnimationFrame(tick);
  }
  const toggle = () => setPlaying(!playing);
  function step(by) {
    setPlaying(false);
    go(State.frame + by);
    Reading.speak(`${Words.seconds(Times[State.frame])}. `);
  }
  function show() {
    const slider = Dom.byId('moment'), time = Times[State.frame];
    slider.value = State.frame;
    slider.setAttribute('aria-valuetext', `${Words.seconds(time)} after the pour`);
    Dom.byId('clock').textContent = Words.seconds(time);
    Dom.byId('clock-words').textContent = [Words.clock(time) && `= ${Words.clock(time)}`, `after the pour, moment ${State.frame + 1} of ${Times.length}`].filter(Boolean).join(' ');
  }
  function listen() {
    const slider = Dom.byId('moment');
    slider.max = Math.max(0, Times.length - 1);
    slider.addEventListener('input', () => { setPlaying(false); go(Number(slider.value)); });
    Dom.byId('play').addEventListener('click', toggle);
    Dom.byId('step-back').addEventListener('click', () => step(-1));
    Dom.byId('step-on').addEventListener('click', () => step(1));
    if (Times.length < 2) Dom.hide('time-bar');
  }
  return { show, listen, toggle, go };
})();
