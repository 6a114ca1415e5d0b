#pragma once
// The pages of `sandfreeze help`, at most 80 columns wide. The page on the case file is made from its schema.

#include <array>
#include <string_view>

namespace sandfreeze::tools
{

constexpr std::array<std::string_view, 5> help_topics{"first-evening", "case", "verdicts", "files",
                                                      "exit-codes"};

constexpr std::string_view overview_text =
    R"(sandfreeze tells whether a sand casting freezes towards its feeders, before the
mould is rammed, and why not where it does not.

  sandfreeze look CASE.toml        show the section, without computing anything
  sandfreeze run CASE.toml -o DIR  compute how it freezes; the answer is in DIR
  sandfreeze resume DIR            go on with a run that was stopped or killed
  sandfreeze sheet CASE.toml|DIR   what to take to the furnace: charge, pouring,
                                   weights, sand, times; --html FILE to print
  sandfreeze materials             list the metals, sands and chills it knows
  sandfreeze materials show NAME   one of them, every number with its source;
                                   --plot draws it against temperature
  sandfreeze help TOPIC            read about:
      first-evening   from nothing to a first answer
      case            everything that a case file can say
      verdicts        what the verdicts mean, and when they are given
      files           what a run writes, and what opens it
      exit-codes      what a script can see, and how to stop a run
  sandfreeze run --help            options of a command; likewise for the others
  sandfreeze --version
)";

constexpr std::string_view first_evening_opening =
    R"(FROM NOTHING TO A FIRST ANSWER

1. Write a case: a text file that says what is in the mould, in millimetres.
   Save this one as first.toml, or take one of the demo cases and change it.

)";

constexpr std::string_view first_evening_rest = R"(
2. Look at it before you compute it:

       sandfreeze look first.toml

   draws the section as a picture and lists the parts with volume, mass and
   modulus. What is misspelt or cannot be is answered with its line, what is
   wrong, and what would be right.

3. Run it:

       sandfreeze run first.toml -o first

4. Read what it prints: what is wrong comes first, the worst at the top, with
   its place in mm; then what is fine, the order of freezing and the last metal.
   "sandfreeze help verdicts" says what the words mean.

5. Open first/report.html in a browser: what is wrong and where, and the freeze
   front over time ("sandfreeze help files" lists the other files).

6. Change one thing and run it again, into another folder: the gate thicker,
   the feeder smaller, the chill away. The difference of two runs can be trusted
   more than the seconds of one.

This program has never seen your foundry. A good verdict is no permission to
pour: molten metal and moisture explode. Learn from someone who does it.
)";

constexpr std::string_view verdicts_text =
    R"(THE VERDICTS

A spot is solid when all its metal has frozen. Before that it closes: so much of
it is solid that no more metal flows through (the alloy's feeding_limit). A way
is liquid metal that leads from a spot to a feeder, or to a basin or sprue that
is open to the air; it closes where its first spot closes. A spot that closes
later than its last way is unfed from then on: look there for draw-down and
shrinkage.

Gates and necks: their closing time against that of the casting metal at them.
  ok           open until that metal had closed, with the limit to spare
  marginal     within the limit: too close to call
  too early    closed while the metal behind it still drew on it: make it
               thicker or shorter, or help it with a sleeve
  not needed   that metal was fed longer by another way

Hot spots: where metal closes last of all around it.
  fed          it had a way until it closed
  marginal     unfed, but for no longer than the limit
  cut off      unfed for longer: a feeder nearer, a thicker way to it, less
               metal here, or a chill

Feeders: how long they can give metal, and how long the casting draws on them.
  ok, marginal, too early   as for gates
  not needed   the casting never drew on it, or others served longer

Filling, where fill_time_s and enters are given:
  hot          all metal came in above its liquidus and stayed so until the end
  freezes before the mould is full   a skin forms early, with hot metal coming:
               too close to call
  cold run     metal comes in below its liquidus: cold shuts, misruns
  way frozen while filling   metal is solid that more has yet to pass: a misrun

Feeding as a whole, the questions of the report:
  needed       whether the casting shrinks, so that something must give metal
  heat, path   whether the feeder is liquid, and a way to it, for long enough
  volume       whether it holds enough; "runs dry" when it does not
  junction     whether it makes a hot spot of its own where it joins
  gradient     whether its height or the air drives metal into the casting: a
               closed feeder lacks the air, a low one the height
  pressure     whether air and liquid keep pores shut against what drawing metal
               through the mush costs and the gas in it (hydrogen_ml_100g)

Chills: how much sooner the tenth of the casting nearest to the chill freezes
than with mould in the chill's place (which is computed as well).
  working      by 10 % or more
  weak         by 3 % or more
  no effect    by less

The limit is margin_limit_s of the case; without it the larger of 1 s and 2 % of
the time in question. Each verdict stands in summary.json with its reason
("because") and the limit it was judged by.

What would mend it: after a bad verdict the run tries changes, each by a solve
of its own, and offers up to three for each cause: they make its verdicts good
and no other one bad, and come with the metal they cost and the lines of the
case to edit. Verdicts of one cause, such as a hot spot behind a gate that is
too early, stand together. --no-advice leaves it out.
Pores: "lowest criterion" is the temperature gradient over the root of the
cooling rate near the end of freezing. Under 0.775 (K s)^0.5/mm steel shows
pores along the middle of the wall; for other alloys it only ranks places. The
margin against pores is what air, the liquid above and surface tension have left
over drawing metal through the mush and the metal's hydrogen (hydrogen_ml_100g).

The mould may open when the hottest place of the castings is below open_below_C;
without it below half of what they become solid at, a rule of thumb. The rules
of your shop come first.

How far can a verdict be trusted? "sandfreeze run" with --what-matters takes
every uncertain input to the ends of its range, one at a time, and ranks what
moves the margins. What changes a verdict is worth measuring.

A check, [[check]] in the case, is what you want to be true: the last metal of
one part or region solid before that of another, by so many seconds.
)";

constexpr std::string_view files_text =
    R"(WHAT A RUN WRITES

  report.html       all of it on one page for any browser, phones too; needs no
                    network: verdicts, the freeze front that plays, maps to read
                    values from, pools, cooling curves, advice, how to repeat it
  summary.json      everything the run found, for people and for scripts
  freeze_time.png   map of the time until each spot is solid; each line in it is
                    the freeze front at one moment
  hollow.png        where metal is missing in the end: draw-downs and holes, in
                    cm3; a cross marks a hole in a casting
  unfed_time.png    map of the time for which spots went on freezing after their
                    last way had closed; only where that exceeds the limit
  criterion.png     map of gradient over root of cooling rate, low where fine
                    pores are likely; only for alloys with a freezing range
  what_matters.png  which uncertain inputs the verdicts hang on; only with
                    --what-matters
  section.png       the section as the program saw it
  pictures/         only with --pictures: every map as a picture, with bad and
                    marginal verdicts marked (square: gate or neck, triangle:
                    feeder, diamond: hot spot, cross: hole; black: bad, white:
                    marginal), the temperature at the middle of freezing, and
                    freeze.gif, the freeze front as an animation; its single
                    pictures are in pictures/frames/
  freeze.pvd        solid fraction and temperature of the metal over time, for
                    any VTK viewer such as ParaView: open it, show it as a
                    surface, colour by solid_fraction from 0 to 1, play; what is
                    not metal is left blank. --full-fields: the temperature of
                    the mould as well
  frames/           the moments that freeze.pvd shows
  maps.vti          maps of freeze, closing, cut-off and unfed time, cooling
                    rate, gradient, criterion, pressure loss, dendrite arms,
                    draw-downs and holes, pores, part and material, for the same
                    viewers
  fields.h5         all of that in one HDF5 file, for Python and others
  probes.csv        the cooling curve of every [[probe]], for a spreadsheet
  case.toml         the case that this is the answer to
  checkpoints/      only while a run is not done: two files for each of its
                    solves, from which "sandfreeze resume DIR" goes on

Names in the files end in their unit; what did not happen is NaN (null in
summary.json). An earlier answer to the same case is replaced; one to another
case, or to this one before it was changed, only with --replace. The new answer
is written beside it and takes its place once all of it is whole: until then,
and when something goes wrong, the earlier one is as it was. A folder with a
summary.json holds a whole answer. A folder that holds anything else is refused,
and so are links in it. "sandfreeze look" writes one picture, CASE_section.png
in the current folder unless -o names another; it takes the place of a picture,
never of another file. "sandfreeze sheet" writes what --html and --json name.
)";

constexpr std::string_view exit_codes_text =
    R"(EXIT CODES

  0    done, and every check holds
  1    done, but a check fails; with --strict also for every bad verdict: a
       gate, neck or feeder too early, a hot spot cut off, a feeder that runs
       dry, a gradient or pressure that fails, a chill without effect, metal
       that runs cold while the mould fills
  2    the case or the command line is wrong: the message says where, and what
       would be right
  3    the program could not go on
  4    a file could not be read or written
  129  stopped because its terminal was closed; what was done is written
  130  stopped by Ctrl-C, likewise
  143  stopped by SIGTERM, likewise

Results go to standard output, errors and progress to standard error. Progress
shows only on a terminal, and not with --quiet; so do bold and colours, which
NO_COLOR set to anything turns off. --sketch draws with letters, and with shades
where the locale is UTF-8.

The first Ctrl-C stops the computing and writes what was done so far:
summary.json then says that it was stopped. A second one ends the program at
once.

GOING ON WITH A RUN

  sandfreeze resume DIR

goes on where a run was stopped by Ctrl-C, SIGTERM or a closed terminal, and
after a power cut or kill from what was kept last: a run keeps its state in
DIR/checkpoints every 60 seconds (--checkpoint-every SECONDS; 0: never). The
answer is that of a run that was never disturbed, to the last digit. What would
mend it and what matters are tried from their beginning. Case and options are
those with which the run began; --threads may differ. A damaged file is named,
and the older one used. Only the version of sandfreeze that wrote them goes on
with checkpoints, on a processor of the same kind to the last digit. "sandfreeze
run" of that case into the folder begins anew, of another one with --replace
alone. A run that was killed while its answer took the place of an earlier one
has nothing left but that: resume does it. With a whole answer in the folder
there is nothing to do: exit code 0.
)";

}  // namespace sandfreeze::tools
