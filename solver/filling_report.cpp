#include "solver/filling_report.hpp"

#include <cmath>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::number_words;
using feeding::seconds_words;
using feeding::words;

double liquidus_of(const Case& c, const FillingSpot& spot)
{
    const auto& freezing = c.materials[static_cast<std::size_t>(c.parts[spot.part].material)].freezing;
    return freezing ? freezing->liquidus : NAN;
}

std::string degrees(double temperature)
{
    return words(number_words(temperature), " °C");
}

std::string where(const Case& c, const FillingSpot& spot)
{
    return feeding::where_words(spot.at, c.parts[spot.part].name);
}

FillingVerdict verdict_on(const conduction::FillingRecord& record)
{
    if (record.frozen_way) return FillingVerdict::frozen_way;
    if (record.coldest_arrival && record.coldest_arrival->solid_fraction > 0) return FillingVerdict::cold_run;
    return record.first_cold ? FillingVerdict::early_skin : FillingVerdict::hot;
}

std::string above_liquidus(const Case& c, const FillingSpot& arrival)
{
    return words(number_words(arrival.temperature - liquidus_of(c, arrival)), " K above its liquidus");
}

std::string because_cold(const Case& c, const FillingSpot& spot)
{
    return words("The metal that gets there after ", seconds_words(spot.time), " has ",
                 degrees(spot.temperature), ", its liquidus is ", degrees(liquidus_of(c, spot)), ": ",
                 number_words(100 * spot.solid_fraction),
                 " % of it is solid already. Fill in less time, pour hotter, or bring the metal in nearer. "
                 "How it flows is not computed.");
}

std::string because_frozen(const FillingReport& report)
{
    return words("The metal there is solid after ", seconds_words(report.at->time),
                 ", and what has yet to fill until ", seconds_words(report.fill_time),
                 " would have to pass: expect a misrun. What comes after is computed as if it passed; how "
                 "metal flows is not computed.");
}

std::string because_skin(const Case& c, const FillingReport& report)
{
    const double before = report.fill_time - report.at->time;
    std::string text =
        words("The metal there falls below its liquidus, ", degrees(liquidus_of(c, *report.at)), ", ",
              before < 0.05 ? "just" : seconds_words(before), " before the mould is full.");
    if (!report.coldest_arrival) return text;
    const double above = report.coldest_arrival->temperature - liquidus_of(c, *report.coldest_arrival);
    return text + (above < 1 ? " The coldest metal that comes has hardly more than that."
                             : words(" Metal that comes is at least ",
                                     above_liquidus(c, *report.coldest_arrival), "."));
}

std::string because_hot(const Case& c, const FillingReport& report)
{
    if (!report.coldest_arrival) return "No metal had come in when the run ended.";
    const FillingSpot& spot = *report.coldest_arrival;
    return words("The metal gets coldest ", where(c, spot), ", where it comes after ",
                 seconds_words(spot.time), " with ", degrees(spot.temperature), ", ", above_liquidus(c, spot),
                 ".");
}

}  // namespace

FillingReport report_filling(const Case& c, const conduction::FillingRecord& record)
{
    FillingReport report;
    report.fill_time = c.fill_time;
    report.enters = c.parts[c.enters.value()].name;
    if (record.full) report.filled = c.fill_time;
    report.verdict = verdict_on(record);
    report.coldest_arrival = record.coldest_arrival;
    report.below_liquidus_before_full = report.verdict != FillingVerdict::hot;
    switch (report.verdict) {
    case FillingVerdict::frozen_way:
        report.at = record.frozen_way;
        report.because = because_frozen(report);
        break;
    case FillingVerdict::cold_run:
        report.at = record.coldest_arrival;
        report.because = because_cold(c, *report.at);
        break;
    case FillingVerdict::early_skin:
        report.at = record.first_cold;
        report.because = because_skin(c, report);
        break;
    case FillingVerdict::hot:
        report.at = record.coldest_arrival;
        report.because = because_hot(c, report);
    }
    if (report.at) report.part = c.parts[report.at->part].name;
    return report;
}

std::string warning_of(const Case& c, const FillingReport& report)
{
    return words(to_string(report.verdict), " ", where(c, *report.at), ": ", report.because);
}

}  // namespace sandfreeze::solver
