#pragma once
// A picture of a material: what it conducts and holds, and how it freezes, against temperature.

#include <filesystem>

#include "materials/library.hpp"

namespace sandfreeze::io
{

/// Writes a PNG with four charts against temperature: conductivity, specific heat and heat content, each as
/// the solver uses it, and the solid fraction of a metal or how fast anything else takes up heat. Grey bands
/// are the stated uncertainty. Throws FileError.
void write_material_picture(const std::filesystem::path& png, const materials::LibraryEntry& entry);

}  // namespace sandfreeze::io
