#include "solver/feeding/parts.hpp"

#include <algorithm>
#include <limits>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// The voxel that freezes last.
MetalId last_to_freeze(const Evidence& evidence, std::span<const MetalId> voxels)
{
    MetalId last = nobody;
    for (const MetalId id : voxels) {
        const bool later = last == nobody || evidence.freezes_at(id) > evidence.freezes_at(last);
        if (later || (evidence.freezes_at(id) == evidence.freezes_at(last) && id < last)) last = id;
    }
    return last;
}

solver::MetalReport report_part(const Evidence& evidence, const mesh::Painting& painting, std::size_t p)
{
    const solver::Part& part = evidence.c.parts[p];
    const materials::Material& material = evidence.c.materials[part.material];
    const double factor = real_mould_factor(evidence.c);
    solver::MetalReport report;
    report.name = part.name;
    report.role = part.role;
    report.material = material.name;
    report.volume = painting.measures[p].volume * factor;
    report.mass = report.volume * material.density;
    report.cooling_area = painting.measures[p].cooling_area * factor;
    report.modulus = modulus(report.volume, report.cooling_area);
    fill_times(evidence, evidence.metal.falling_of(p), report);
    return report;
}

}  // namespace

double real_mould_factor(const solver::Case& c)
{
    return c.section.multiply * (c.section.view == solver::View::planar ? c.section.depth : 1);
}

double modulus(double volume, double cooling_area)
{
    if (cooling_area > 0) return volume / cooling_area;
    return volume > 0 ? std::numeric_limits<double>::infinity() : 0;
}

void fill_times(const Evidence& evidence, std::span<const MetalId> voxels, solver::MetalReport& report)
{
    if (voxels.empty()) return;
    float first = std::numeric_limits<float>::infinity();
    float closes = 0;
    double volume = 0;
    double cut_off = 0;
    for (const MetalId id : voxels) {
        first = std::min(first, evidence.freezes_at(id));
        closes = std::max(closes, evidence.metal.closes[id]);
        report.largest_unfed = std::max(report.largest_unfed, evidence.unfed(id));
        volume += evidence.metal.volume[id];
        if (evidence.is_cut_off(id)) cut_off += evidence.metal.volume[id];
    }
    const MetalId last = last_to_freeze(evidence, voxels);
    report.first_freeze = happened(first);
    report.last_freeze = happened(evidence.freezes_at(last));
    if (report.last_freeze) report.last_freeze_at = evidence.metal.place(last);
    report.closes = happened(closes);
    report.cut_off_percent = 100 * cut_off / volume;
}

std::vector<solver::MetalReport> report_parts(const Evidence& evidence, const mesh::Painting& painting,
                                              std::vector<std::string>& warnings)
{
    std::vector<solver::MetalReport> reports;
    for (std::size_t p = 0; p < evidence.c.parts.size(); ++p) {
        const solver::Part& part = evidence.c.parts[p];
        if (!solver::is_poured(part.role)) continue;
        reports.push_back(report_part(evidence, painting, p));
        if (evidence.metal.falling_of(p).empty())
            warnings.push_back(words("Nothing of ", quoted(part.name), " is left on the cells of ",
                                     number_words(painting.grid.cell * 1000),
                                     " mm, so it has no times: it is too small, or later parts cover it."));
    }
    return reports;
}

solver::MetalTotal report_metal(const Evidence& evidence, std::span<const solver::MetalReport> parts)
{
    solver::MetalTotal total;
    for (const solver::MetalReport& part : parts) {
        total.volume += part.volume;
        total.mass += part.mass;
    }
    const MetalId last = last_to_freeze(evidence, evidence.metal.falling);
    if (last == nobody) return total;
    total.last_freeze = happened(evidence.freezes_at(last));
    if (total.last_freeze) total.last_freeze_at = evidence.metal.place(last);
    return total;
}

std::vector<std::string> freeze_order(const Evidence& evidence, std::span<const solver::MetalReport> parts,
                                      std::span<const solver::MetalReport> regions)
{
    std::vector<const solver::MetalReport*> reports;
    auto report = parts.begin();
    for (std::size_t p = 0; p < evidence.c.parts.size(); ++p) {
        if (!solver::is_poured(evidence.c.parts[p].role)) continue;
        if (!evidence.metal.falling_of(p).empty()) reports.push_back(&*report);
        ++report;
    }
    for (const solver::MetalReport& region : regions)
        if (region.volume > 0) reports.push_back(&region);

    const auto time = [](const solver::MetalReport* r) {
        return r->last_freeze.value_or(std::numeric_limits<double>::infinity());
    };
    std::stable_sort(
        reports.begin(), reports.end(),
        [&](const solver::MetalReport* a, const solver::MetalReport* b) { return time(a) < time(b); });
    std::vector<std::string> names;
    names.reserve(reports.size());
    for (const solver::MetalReport* r : reports)
        names.push_back(r->name);
    return names;
}

}  // namespace sandfreeze::feeding
