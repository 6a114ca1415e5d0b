#pragma once
// The materials a case may use: its own [[material]]s before those of the library.

#include <string>
#include <string_view>
#include <vector>

#include "io/draft.hpp"
#include "io/toml_reader.hpp"
#include "materials/material.hpp"

namespace sandfreeze::io
{

/// What may be made of a material.
enum class Fits { metal_parts, solid_parts, everything };

class MaterialShelf
{
public:
    /// Reads and checks the [[material]]s; reports to the draft.
    MaterialShelf(const TomlValue* list, Draft& draft);

    /// Whether the name is one of the case's own, right or faulty.
    bool is_own(std::string_view name) const;
    /// The index in draft.case_.materials, put there on first use; −1 where there is none, which is reported
    /// unless it is an own one with mistakes of its own. `label` says who asks, `fits` which names are
    /// offered.
    int take(std::string_view name, Place place, const std::string& label, Fits fits, Draft& draft);
    /// All names there are that fit, own ones first.
    std::vector<std::string> names(Fits fits = Fits::everything) const;

private:
    void read(const TomlValue& table, std::size_t item, Draft& draft);

    std::vector<materials::Material> own_;
    std::vector<std::string> own_names_;  ///< those with mistakes too
};

}  // namespace sandfreeze::io
