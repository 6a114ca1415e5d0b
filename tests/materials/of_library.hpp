#pragma once
// Materials that the library must have.

#include <doctest/doctest.h>

#include <string>

#include "materials/library.hpp"

namespace sandfreeze::materials
{

inline const Material& get(const std::string& name)
{
    const LibraryEntry* entry = find(name);
    REQUIRE_MESSAGE(entry != nullptr, name);
    return entry->material;
}

}  // namespace sandfreeze::materials
