// Names, units and numbers as people read them.
const Words = (() => {
  const maps = [
    { id: 'temperature', name: 'Temperature at a moment', unit: '°C', moving: true,
      says: 'The black and white line is the freeze front: inside it metal is not wholly solid yet.' },
    { id: 'solid', name: 'Solid fraction at a moment', unit: '%', moving: true, factor: 100,
      says: '0 % is liquid, 100 % is solid. Outside the metal there is none.' },
    { id: 'freeze_time_s', name: 'Freeze time', unit: 's', fronts: true, moving: true,
      says: 'When each spot becomes wholly solid. Each thin line is the freeze front at one moment, the thick one at the moment chosen.' },
    { id: 'closing_time_s', name: 'Closing time', unit: 's', fronts: true,
      says: 'When so much is solid that no more metal flows through.' },
    { id: 'cut_off_time_s', name: 'Cut-off time', unit: 's', fronts: true,
      says: 'From then on no liquid way leads from the spot to a feeder. Blank: it never had one.' },
    { id: 'unfed_time_s', name: 'Unfed time', unit: 's', zero: true,
      says: 'How long the spot went on freezing after its last way had closed. Look at the high values for draw-down and shrinkage.' },
    { id: 'criterion_sqrtKs_mm', name: 'Gradient criterion', unit: '√(K s)/mm', cut: 0.9,
      says: 'Temperature gradient over the root of the cooling rate near the end of freezing. Low values are where fine pores are likely.' },
    { id: 'pressure_loss_Pa', name: 'Pressure lost in the mush', unit: 'Pa', cut: 0.98,
      says: 'By metal that is drawn between the crystals to where it shrinks.' },
    { id: 'arm_spacing_um', name: 'Dendrite arm spacing', unit: 'µm',
      says: 'Fine is strong: small where it freezes fast.' },
    { id: 'hollow_percent', name: 'Draw-downs and holes', unit: '%', full: 100, zero: true,
      says: 'How much of each spot is empty in the end: surfaces that sank, and cavities.' },
    { id: 'pores_percent', name: 'Fine pores', unit: '%', zero: true,
      says: 'How much of each spot is in pores too small to draw.' },
    { id: 'part', name: 'Parts', unit: '', says: 'What is what; the table below has the names.' },
  ];
  const questions = {
    needed: 'Does it need feeding at all?',
    heat: 'Does the feeder stay liquid for long enough?',
    volume: 'Does it hold enough metal?',
    junction: 'Does its junction make no hot spot of its own?',
    path: 'Is there a way to every place that shrinks?',
    gradient: 'Does height or air drive the metal there?',
    pressure: 'Does pressure keep pores shut?',
  };
  const fineVerdicts = new Set(['ok', 'fed', 'working', 'not needed', 'hot']);
  const closeVerdicts = new Set(['marginal', 'not known', 'weak']);

  function number(value, digits = 3) {
    if (value === null || value === undefined || !Number.isFinite(value)) return '–';
    if (value === 0) return '0';
    const size = Math.floor(Math.log10(Math.abs(value)));
    const text = value.toFixed(Math.min(6, Math.max(0, digits - 1 - size)));
    return (text.includes('.') ? text.replace(/\.?0+$/, '') : text).replace(/^-/, '−');
  }
  const withUnit = (value, unit, digits) => value === null || value === undefined ? '–' : `${number(value, digits)} ${unit}`.trim();
  const seconds = value => withUnit(value, 's', Math.abs(value) >= 1000 ? 4 : 3);
  function clock(value) {
    if (value < 120) return '';
    const all = Math.round(value), h = Math.floor(all / 3600), m = Math.floor(all / 60) % 60;
    return h > 0 ? `${h} h ${m} min` : `${m} min ${all % 60} s`;
  }
  const axes = ['x', 'y', 'z'];
  const place = at => at ? at.map((v, n) => `${axes[n]} ${number(v, 4)}`).join(', ') + ' mm' : '';
  const capital = text => text ? text[0].toUpperCase() + text.slice(1) : text;
  const gravity = verdict => fineVerdicts.has(verdict) ? 'good' : closeVerdicts.has(verdict) ? 'close' : 'bad';
  const sign = { good: '✓', close: '△', bad: '✕', idle: '○' };
  const mapNamed = id => maps.find(m => m.id === id);
  return { maps, mapNamed, questions, number, withUnit, seconds, clock, place, capital, gravity, sign };
})();
