#pragma once
// A property against temperature: a number, or a table read by straight lines and held constant outside.

#include <vector>

namespace sandfreeze::materials
{

class Curve
{
public:
    struct Knot {
        double temperature = 0;  ///< [°C]
        double value = 0;        ///< [the property's unit]
    };

    Curve() = default;
    /// The same value at every temperature.
    explicit Curve(double constant);
    /// Knots in rising temperature. Throws DataError where they are not, or are not finite.
    explicit Curve(std::vector<Knot> knots);

    double operator()(double temperature) const;
    bool is_constant() const { return knots_.size() == 1; }
    const std::vector<Knot>& knots() const { return knots_; }

private:
    std::vector<Knot> knots_{{0.0, 0.0}};
};

}  // namespace sandfreeze::materials
