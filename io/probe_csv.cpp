#include "io/probe_csv.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

/// A name as RFC 4180 wants it: quoted where a comma, quote or line end would be misread. A quote goes before
/// what a spreadsheet would compute instead of showing it.
std::string csv_field(std::string field)
{
    if (std::string_view("=+-@").find(field.front()) != std::string_view::npos) {
        field.insert(field.begin(), '\'');
    }
    if (field.find_first_of(",\"\r\n") == std::string::npos) {
        return field;
    }
    std::string text = "\"";
    for (const char letter : field) {
        text += letter;
        if (letter == '"') {
            text += letter;
        }
    }
    return text + '"';
}

/// Every moment at which any probe has a sample, rising.
std::vector<double> all_times(std::span<const solver::ProbeReport> probes)
{
    std::vector<double> times;
    for (const solver::ProbeReport& probe : probes) {
        times.insert(times.end(), probe.curve.time.begin(), probe.curve.time.end());
    }
    std::sort(times.begin(), times.end());
    times.erase(std::unique(times.begin(), times.end()), times.end());
    return times;
}

std::string lines(std::span<const solver::ProbeReport> probes)
{
    std::string text = "time_s";
    for (const solver::ProbeReport& probe : probes) {
        text += ',' + csv_field(probe.name + "_C");
    }
    text += '\n';
    std::vector<std::size_t> next(probes.size(), 0);
    for (const double time : all_times(probes)) {
        text += fmt::format("{:.9g}", time);
        for (std::size_t p = 0; p < probes.size(); ++p) {
            const solver::CoolingCurve& curve = probes[p].curve;
            text += ',';
            if (next[p] < curve.time.size() && curve.time[next[p]] == time) {
                const double temperature = curve.temperature.at(next[p]);
                if (std::isfinite(temperature)) {  // nothing to tell before metal gets there
                    text += fmt::format("{:.7g}", temperature);
                }
            }
            while (next[p] < curve.time.size() && curve.time[next[p]] <= time) {
                ++next[p];
            }
        }
        text += '\n';
    }
    return text;
}

}  // namespace

void write_probe_csv(const std::filesystem::path& file, std::span<const solver::ProbeReport> probes)
{
    write_whole(file, lines(probes));
}

}  // namespace sandfreeze::io
