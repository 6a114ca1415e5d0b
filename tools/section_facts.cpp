#include "tools/section_facts.hpp"

#include <cmath>
#include <variant>

#include "solver/feeding/parts.hpp"
#include "solver/section.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

std::vector<mesh::ThinPlace> thin_places_of(const solver::Case& c, const mesh::Painting& painting,
                                            const std::optional<solver::FinerVoxels>& finer)
{
    const double enough = cells_across_a_wall / (finer ? finer->split : 1);
    std::vector<mesh::ThinPlace> places = mesh::thin_places(painting, solver::painted_shapes(c), enough);
    std::erase_if(places, [&](const mesh::ThinPlace& place) {
        return place.part == 0 || is_hole_over_feeder(c.parts[place.part]);
    });
    return places;
}

std::string thin_words(const solver::Case& c, const mesh::ThinPlace& place)
{
    const double cells = place.thickness / c.section.cell;
    const double mend = place.thickness * 1e3 / cells_across_a_wall;
    return name_words(c.parts[place.part].name) + " is " + decimal(place.thickness * 1e3, 2) +
           " mm thin at " + place_words(place.at) + ", " + decimal(cells, 1) +
           (decimal(cells, 1) == "1" ? " cell" : " cells") +
           " across: use cell_mm = " + decimal(std::floor(mend * 100) / 100, 2) + " or less for three";
}

PartFacts facts_of(const solver::Case& c, const mesh::Painting& painting, std::size_t part)
{
    const mesh::PartMeasure& measure = painting.measures[part];
    const double factor = feeding::real_mould_factor(c);
    PartFacts facts;
    facts.volume = measure.volume * factor;
    facts.mass = facts.volume * c.materials[static_cast<std::size_t>(c.parts[part].material)].density;
    if (solver::is_poured(c.parts[part].role)) {
        facts.cooling_area = measure.cooling_area * factor;
        facts.modulus = feeding::modulus(facts.volume, facts.cooling_area);
    }
    return facts;
}

bool is_hole_over_feeder(const solver::Part& part)
{
    return part.hole_above;
}

}  // namespace sandfreeze::tools
