#include "materials/curve.hpp"

#include <algorithm>
#include <cmath>

#include "materials/material.hpp"
#include "materials/number_text.hpp"

namespace sandfreeze::materials
{

namespace
{

void refuse_impossible(const std::vector<Curve::Knot>& knots)
{
    if (knots.empty())
        throw DataError("a table without rows: give at least one pair of temperature and value");
    for (std::size_t i = 0; i < knots.size(); ++i) {
        const auto& knot = knots[i];
        if (!std::isfinite(knot.temperature) || !std::isfinite(knot.value))
            throw DataError("row " + std::to_string(i + 1) + " of a table, [" +
                            number_text(knot.temperature) + ", " + number_text(knot.value) +
                            "], is not a pair of finite numbers");
        if (i > 0 && knots[i - 1].temperature >= knot.temperature)
            throw DataError("the temperatures of a table must rise from row to row, but " +
                            number_text(knots[i - 1].temperature) + " °C is followed by " +
                            number_text(knot.temperature) + " °C");
    }
}

}  // namespace

Curve::Curve(double constant)
    : Curve(std::vector<Knot>{{0.0, constant}})
{
}

Curve::Curve(std::vector<Knot> knots)
    : knots_(std::move(knots))
{
    refuse_impossible(knots_);
}

double Curve::operator()(double temperature) const
{
    const auto above = std::upper_bound(knots_.begin(), knots_.end(), temperature,
                                        [](double t, const Knot& knot) { return t < knot.temperature; });
    if (above == knots_.begin()) return knots_.front().value;
    if (above == knots_.end()) return knots_.back().value;
    const Knot& low = *(above - 1);
    const double share = (temperature - low.temperature) / (above->temperature - low.temperature);
    return low.value + share * (above->value - low.value);
}

}  // namespace sandfreeze::materials
