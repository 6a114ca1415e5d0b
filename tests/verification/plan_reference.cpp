#include "verification/plan_reference.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "io/case_file.hpp"

namespace sandfreeze::verification
{
namespace
{

using nlohmann::json;

std::string read(const std::string& path)
{
    std::ifstream file(std::string(SANDFREEZE_TEST_DATA) + "/" + path);
    std::stringstream text;
    text << file.rdbuf();
    if (!file.good()) throw std::runtime_error("cannot read " + path);
    return text.str();
}

json read_reference(const std::string& name, const std::string& kind)
{
    return json::parse(read("verification/reference/plan/" + name + "." + kind + ".json"));
}

/// The time of the report with this name; not a number where it did not happen.
template <class Report>
double time_of(const std::vector<Report>& reports, const std::string& name,
               std::optional<double> Report::*time)
{
    for (const Report& report : reports)
        if (report.name == name) return (report.*time).value_or(std::nan(""));
    throw std::runtime_error("nothing is named " + name);
}

}  // namespace

std::vector<std::string> plan_names()
{
    return {"cover_plan", "mount_plan", "tall_feeder", "thin_gate", "edge_chill", "l_plate", "cored_box"};
}

solver::Case read_plan(const std::string& name, solver::Levels levels)
{
    solver::Case c = io::read_case(read("cases/plan/" + name + ".toml"), name + ".toml").case_;
    c.section.levels = levels;
    c.models.open_tops = false;  // the independent code knows conduction alone
    return c;
}

solver::Case read_plan(const std::string& name, solver::Levels levels, double cell)
{
    solver::Case c = read_plan(name, levels);
    c.section.cell = cell;
    return c;
}

Reference beside_reference(const solver::Answer& answer, const std::string& name)
{
    const json there = read_reference(name, "reference");
    Reference pairs;
    for (const json& part : there["parts"]) {
        const std::string part_name = part["name"];
        pairs.parts.push_back({part_name, time_of(answer.parts, part_name, &solver::MetalReport::last_freeze),
                               part["last_freeze_s"].get<double>()});
    }
    for (const json& probe : there["probes"]) {
        const double freezes = probe["freeze_s"];
        const std::string probe_name = probe["name"];
        if (freezes < 0) continue;  // not in metal
        pairs.probes.push_back(
            {probe_name, time_of(answer.probes, probe_name, &solver::ProbeReport::freezes), freezes});
    }
    return pairs;
}

double rms_error(const std::vector<TimePair>& times)
{
    double squares = 0;
    for (const TimePair& pair : times)
        squares += pair.error() * pair.error();
    return std::sqrt(squares / static_cast<double>(times.size()));
}

const TimePair& worst(const std::vector<TimePair>& times)
{
    return *std::max_element(times.begin(), times.end(), [](const TimePair& a, const TimePair& b) {
        return std::abs(a.error()) < std::abs(b.error());
    });
}

WaysThere ways_there(const std::string& name)
{
    const json there = read_reference(name, "ways");
    WaysThere ways;
    for (const json& gate : there["gates"]) {
        GateThere g{gate["name"],           gate["closes_s"], {},
                    gate["needed_until_s"], gate["margin_s"], gate["verdict"]};
        if (!gate["section_closes_s"].is_null()) g.section_closes = gate["section_closes_s"].get<double>();
        ways.gates.push_back(g);
    }
    for (const json& part : there["parts"]) {
        PartThere p{part["name"], part["closes_s"], part["largest_unfed_s"], part["cut_off_percent"], {}};
        for (const json& spot : part["hot_spots"])
            p.hot_spots.push_back({spot["closes_s"], spot["unfed_s"], spot["verdict"]});
        ways.parts.push_back(p);
    }
    return ways;
}

}  // namespace sandfreeze::verification
