#include "materials/freezing_curve.hpp"

#include <cmath>

#include "materials/number_text.hpp"

namespace sandfreeze::materials
{

namespace
{

std::string degrees(double temperature)
{
    return number_text(temperature) + " °C";
}

void refuse_range(const Freezing& f)
{
    if (!std::isfinite(f.liquidus))
        throw DataError("liquidus_C = " + number_text(f.liquidus) + " is not a finite number");
    if (!std::isfinite(f.solidus))
        throw DataError("solidus_C = " + number_text(f.solidus) + " is not a finite number");
    if (f.solidus > f.liquidus)
        throw DataError("solidus_C = " + degrees(f.solidus) +
                        " lies above liquidus_C = " + degrees(f.liquidus) +
                        ": freezing ends at or below the temperature at which it begins");
}

double needed(const std::optional<double>& number, const std::string& key, Freezing::Law law)
{
    if (!number)
        throw DataError(key + " is missing: solid_fraction = \"" +
                        (law == Freezing::Law::scheil ? "scheil" : "lever") +
                        "\" needs melting_point_C, partition_coefficient and eutectic_C");
    if (!std::isfinite(*number))
        throw DataError(key + " = " + number_text(*number) + " is not a finite number");
    return *number;
}

/// Scheil and lever: a straight liquidus and solidus that meet at the pure metal's melting point.
void refuse_diagram(const Freezing& f)
{
    const double melting_point = needed(f.melting_point, "melting_point_C", f.law);
    const double partition = needed(f.partition_coefficient, "partition_coefficient", f.law);
    const double eutectic = needed(f.eutectic, "eutectic_C", f.law);
    if (melting_point <= f.liquidus)
        throw DataError("melting_point_C = " + degrees(melting_point) + " must lie above liquidus_C = " +
                        degrees(f.liquidus) + ": it is that of the pure metal");
    if (partition <= 0 || partition >= 1)
        throw DataError("partition_coefficient = " + number_text(partition) + " must lie between 0 and 1");
    if (eutectic > f.liquidus)
        throw DataError("eutectic_C = " + degrees(eutectic) + " lies above liquidus_C = " +
                        degrees(f.liquidus) + ": what freezes first must freeze above the eutectic");
}

void refuse_ends(const Freezing& f)
{
    const auto& first = f.table.front();
    const auto& last = f.table.back();
    if (first.value != 1)
        throw DataError("the solid_fraction table begins with " + number_text(first.value) + " at " +
                        degrees(first.temperature) + ": it must begin with 1, at the solidus");
    if (last.value != 0)
        throw DataError("the solid_fraction table ends with " + number_text(last.value) + " at " +
                        degrees(last.temperature) + ": it must end with 0, at the liquidus");
    if (f.table[1].value == 1)
        throw DataError("the solid_fraction table has 1 at " + degrees(f.table[1].temperature) +
                        " too: begin it there, at the solidus");
    if (f.table[f.table.size() - 2].value == 0)
        throw DataError("the solid_fraction table has 0 at " +
                        degrees(f.table[f.table.size() - 2].temperature) +
                        " already: end it there, at the liquidus");
    if (first.temperature != f.solidus)
        throw DataError("the solid_fraction table begins at " + degrees(first.temperature) +
                        ", but solidus_C = " + degrees(f.solidus) + ": they must be the same");
    if (last.temperature != f.liquidus)
        throw DataError("the solid_fraction table ends at " + degrees(last.temperature) +
                        ", but liquidus_C = " + degrees(f.liquidus) + ": they must be the same");
}

void refuse_table(const Freezing& f)
{
    if (f.table.size() < 2)
        throw DataError("the solid_fraction table needs at least two rows, [solidus, 1] and [liquidus, 0]");
    try {
        const Curve rising(f.table);
    } catch (const DataError& error) {
        throw DataError(std::string("solid_fraction: ") + error.what());
    }
    for (std::size_t i = 1; i < f.table.size(); ++i) {
        if (f.table[i].value > f.table[i - 1].value)
            throw DataError("the solid_fraction table rises from " + number_text(f.table[i - 1].value) +
                            " to " + number_text(f.table[i].value) + " at " +
                            degrees(f.table[i].temperature) + ": the hotter, the less is solid");
    }
    refuse_ends(f);
}

void refuse_impossible(const Freezing& f)
{
    switch (f.law) {
    case Freezing::Law::linear:
        return refuse_range(f);
    case Freezing::Law::table:
        refuse_range(f);
        return refuse_table(f);
    case Freezing::Law::scheil:
    case Freezing::Law::lever:
        if (!std::isfinite(f.liquidus))
            throw DataError("liquidus_C = " + number_text(f.liquidus) + " is not a finite number");
        return refuse_diagram(f);
    }
}

/// fs = (TL − T) / ((1 − k)(Tm − T)): solid and liquid even out everywhere (Flemings 1974).
double lever(const Freezing& f, double temperature)
{
    return (f.liquidus - temperature) / ((1 - *f.partition_coefficient) * (*f.melting_point - temperature));
}

/// fs = 1 − ((Tm − T)/(Tm − TL))^(1/(k−1)): nothing evens out in the solid (Flemings 1974).
double scheil(const Freezing& f, double temperature)
{
    const double relative = (*f.melting_point - temperature) / (*f.melting_point - f.liquidus);
    return 1 - std::pow(relative, 1 / (*f.partition_coefficient - 1));
}

double linear(const Freezing& f, double temperature)
{
    return (f.liquidus - temperature) / (f.liquidus - f.solidus);
}

}  // namespace

FreezingCurve::FreezingCurve(const Freezing& description)
    : description_(description)
{
    refuse_impossible(description_);
    liquidus_ = description_.liquidus;
    solidus_ = description_.solidus;
    switch (description_.law) {
    case Freezing::Law::linear:
        isothermal_rest_ = liquidus_ == solidus_ ? 1 : 0;
        break;
    case Freezing::Law::table:
        table_ = Curve(description_.table);
        break;
    case Freezing::Law::scheil:
        solidus_ = *description_.eutectic;
        isothermal_rest_ = 1 - scheil(description_, solidus_);
        break;
    case Freezing::Law::lever: {
        const double melting_point = *description_.melting_point;
        const double all_solid =
            melting_point - (melting_point - liquidus_) / *description_.partition_coefficient;
        solidus_ = std::max(all_solid, *description_.eutectic);
        isothermal_rest_ = all_solid >= *description_.eutectic ? 0 : 1 - lever(description_, solidus_);
        break;
    }
    }
    find_kinks();
}

void FreezingCurve::find_kinks()
{
    if (description_.law == Freezing::Law::table) {
        for (const auto& knot : description_.table)
            kinks_.push_back(knot.temperature);
    } else if (solidus_ == liquidus_) {
        kinks_ = {liquidus_};
    } else {
        kinks_ = {solidus_, liquidus_};
    }
}

double FreezingCurve::solid_fraction(double temperature) const
{
    if (temperature >= liquidus_) return 0;
    if (temperature < solidus_) return 1;
    if (temperature == solidus_) return 1 - isothermal_rest_;
    switch (description_.law) {
    case Freezing::Law::linear:
        return linear(description_, temperature);
    case Freezing::Law::scheil:
        return scheil(description_, temperature);
    case Freezing::Law::lever:
        return lever(description_, temperature);
    case Freezing::Law::table:
        break;
    }
    return table_(temperature);
}

}  // namespace sandfreeze::materials
