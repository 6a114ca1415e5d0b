#pragma once
// The materials the program knows, compiled in from data files, each number with its source.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "materials/material.hpp"

namespace sandfreeze::materials
{

/// One number or table of a library material, as a person would want to see it.
struct SourcedValue {
    std::string property;            ///< with its unit, such as "density_kg_m3"
    std::string value;               ///< as it stands in the data file
    std::string source;              ///< publication, or "from memory" with what it was recalled from
    double uncertainty_percent = 0;  ///< of a word such as "scheil": 0
};

struct LibraryEntry {
    Material material;
    std::vector<std::string> also_known_as;
    std::string note;  ///< one sentence: what it is and what it is for
    std::vector<SourcedValue> values;
};

/// All entries, in the order in which `sandfreeze materials` lists them. Checked once, on first use.
std::span<const LibraryEntry> library();

/// The entry of exactly that name (or other name, with or without its "EN "); nullptr when there is none.
const LibraryEntry* find(std::string_view name);

/// Heat transfer across a touching face, used where a case names none [W/m2/K].
struct DefaultContact {
    Kind first = Kind::metal;
    Kind second = Kind::mould;
    std::string only;             ///< a material that one of them must be; empty: any
    double h = 0;                 ///< while the metal is liquid there [W/m2/K]
    std::optional<double> h_gap;  ///< once it is solid; empty where no gap opens [W/m2/K]
    std::string source;
    double uncertainty_percent = 0;
};
std::span<const DefaultContact> default_contacts();

/// That of the two materials, in either order; the last that matches. nullptr when there is none (perfect
/// contact).
const DefaultContact* default_contact(const Material& a, const Material& b);

}  // namespace sandfreeze::materials
