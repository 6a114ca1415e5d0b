#pragma once
// Parts of a plan as solids: what their outline is at a height, where their sides lean or end in a dome.

#include <array>
#include <optional>
#include <vector>

#include "mesh/shape.hpp"

namespace sandfreeze::mesh
{

/// Outline of a part at a height [m]; nothing below, above, or where its sides have met.
/// Sides lean inwards by `taper` per rise from z0, those of circles and rectangles only; a dome is the cap of
/// a ball on the circle that the sides have at z1 - dome, with its tip at z1.
std::optional<Shape> section_at(const Shape& shape, const Reach& reach, double z);

/// Outline with the mean area that a part has between two heights, over as much of these as lies in its
/// reach; nothing where it has none.
std::optional<Shape> mean_section(const Shape& shape, const Reach& reach, double low, double high);

/// Whether a level belongs to a part: by the level's middle.
bool covers_level(const Reach& reach, double low, double high);

/// Whether a part's sides stand upright between two heights.
bool is_upright(const Shape& shape, const Reach& reach, double low, double high);

/// Area of a part's side per length of its outline and rise, at a height: 1 where upright.
double slant_at(const Shape& shape, const Reach& reach, double z);

/// Area of a part's leaning side between two heights over that of the stairs which stand for it there: steps
/// as high as the level around its mean outline, and what the outline loses or gains across it. 1 where
/// upright.
double stair_share(const Shape& shape, const Reach& reach, double low, double high);

/// Heights at which a part begins, ends, or its sides change the way they lean [m], rising; some may be
/// infinite.
std::vector<double> bends(const Shape& shape, const Reach& reach);

/// The two heights at which a quantity's mean is its mean between low and high, if it is at most cubic in z
/// (Gauss).
std::array<double, 2> two_heights(double low, double high);

}  // namespace sandfreeze::mesh
