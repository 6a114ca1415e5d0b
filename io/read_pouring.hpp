#pragma once
// What the case says for the sheet of the pour.

#include "io/block.hpp"

namespace sandfreeze::io
{

/// The tables that are for the sheet alone; each may be empty.
struct PouringBlocks {
    const Block& melt;
    const Block& sprue;
    const Block& flask;
    const Block& green_sand;
    const Block& lifting;
};

/// Reads them into the case, whose box must be known where there is one.
void read_pouring(const PouringBlocks& blocks, Draft& draft);

}  // namespace sandfreeze::io
