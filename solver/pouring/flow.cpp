#include "solver/pouring/flow.hpp"

#include <cmath>

namespace sandfreeze::pouring
{

double fall_speed(double height)
{
    return std::sqrt(2 * gravity * height);
}

double Head::effective() const
{
    if (casting_high <= 0) return level;
    return level - above_gate * above_gate / (2 * casting_high);
}

double choke_area(double mass, double density, double loss_factor, double time, double head)
{
    return mass / (density * loss_factor * time * fall_speed(head));
}

double choke_time(double mass, double density, double loss_factor, double area, double head)
{
    return mass / (density * loss_factor * area * fall_speed(head));
}

double sprue_top_area(double choke, double height, double basin)
{
    return choke * std::sqrt(height / basin);
}

double bottom_fill_time(double mould_area, double gate_area, double height, double rise)
{
    return 2 * mould_area / (gate_area * std::sqrt(2 * gravity)) *
           (std::sqrt(height) - std::sqrt(height - rise));
}

double usual_pouring_time(double mass, double constant)
{
    return constant * std::sqrt(mass);
}

}  // namespace sandfreeze::pouring
