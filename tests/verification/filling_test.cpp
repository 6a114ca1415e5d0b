// Metal that cools while it runs along a channel, against plug flow.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr double length = 0.4;    // m
constexpr double outside = 20;    // °C
constexpr double poured = 700;    // °C
constexpr double density = 2500;  // kg/m3
constexpr double heat = 1000;     // J/kg/K
constexpr double latent = 400e3;  // J/kg

/// A plate channel along x, one voxel thick, whose sides give heat to something that stays cold: 1000 W/m2/K
/// where it is 4 mm thick, in proportion where it is thinner, so that metal cools alike.
struct Channel {
    double thickness = 4e-3;  ///< [m]
    double speed = 0.4;       ///< [m/s]
    double melting = 500;     ///< [°C]

    /// From the middle of the channel to outside [W/m2/K].
    double transfer() const { return 1000 * thickness / 4e-3; }
    /// As little as will let the heat out, so that next to none flows along [W/m/K].
    double conductivity() const { return 3 * std::pow(thickness / 4e-3, 2); }
    /// Heat that a kilogram gives off on a metre of the way, per kelvin over outside [J/kg/K/m].
    double per_length() const { return 2 * transfer() / (density * thickness * speed); }

    solver::Case section() const
    {
        solver::Case c;
        c.materials = {sand(),
                       material("METAL", {density, heat, conductivity(), 0, 0, latent, melting, melting})};
        c.section.cell = thickness;
        c.section.box = {0, length, 0, thickness};
        c.pour_temperature = poured;
        const mesh::Box inlet{0, thickness, 0, thickness};
        const mesh::Box rest{thickness, length, 0, thickness};
        c.parts = {{"mould", solver::Role::sand, 0, {}, outside, false},
                   {"inlet", solver::Role::runner, 1, mesh::Rectangle{inlet}, poured, false},
                   {"channel", solver::Role::casting, 1, mesh::Rectangle{rest}, poured, false}};
        const double film = 1 / (1 / transfer() - 0.5 * thickness / conductivity());
        const solver::Edge cold{solver::Edge::Kind::air, film, outside};
        c.edges = {insulated(), insulated(), cold, cold, insulated(), insulated()};
        c.fill_time = length / speed;
        c.enters = 1;
        c.run.end = c.fill_time;
        return c;
    }
};

/// Where the solid fraction of arriving metal passes a value [m].
double length_until(const Channel& channel, const conduction::Outcome& out, double fraction)
{
    const std::vector<double>& solid = out.filling->arrival_solid;
    for (std::size_t k = 1; k < solid.size(); ++k)
        if (solid[k] >= fraction)
            return channel.thickness *
                   (static_cast<double>(k) + 0.5 - (solid[k] - fraction) / (solid[k] - solid[k - 1]));
    return NAN;
}

/// Errors of the temperature with which metal arrives, relative to what it has lost at the end.
struct Errors {
    double largest = 0;
    double mean = 0;
};

Errors errors_of(double thickness)
{
    const Channel channel{thickness};
    const conduction::Outcome out = conduct(channel.section());
    const auto exact = [&](double x) {
        return outside + (poured - outside) * std::exp(-channel.per_length() / heat * x);
    };
    const double lost = poured - exact(length);
    const std::size_t cells = out.fields.arrival.size();
    Errors errors;
    for (std::size_t k = 0; k < cells; ++k) {
        const double there = exact(thickness * (static_cast<double>(k) + 0.5));
        const double error = (static_cast<double>(out.fields.arrival[k]) - there) / lost;
        errors.largest = std::max(errors.largest, std::abs(error));
        errors.mean += error / static_cast<double>(cells);
    }
    return errors;
}

}  // namespace

TEST_CASE("verification: metal arrives along a channel as cold as plug flow has it")
{
    // dT/dx = −2 h (T − T0) / (rho c d v): an elementary heat balance of a slug of metal.
    // Cells are filled whole, and at most so many at a time as a two-hundredth of the way holds: half of that
    // and half a cell are the largest error.
    const Errors coarse = errors_of(16e-3);
    const Errors fine = errors_of(8e-3);
    const Errors finer = errors_of(4e-3);
    const Errors finest = errors_of(1e-3);
    MESSAGE("largest " << coarse.largest << ", " << fine.largest << ", " << finer.largest << ", "
                       << finest.largest << ", mean " << coarse.mean << ", " << fine.mean << ", "
                       << finer.mean << ", " << finest.mean);
    CHECK(observed_order(coarse.mean, fine.mean) > 0.8);
    CHECK(observed_order(fine.mean, finer.mean) > 0.8);
    CHECK(finer.largest < 0.01);
    CHECK(finest.largest < 0.005);
}

TEST_CASE("verification: metal runs as far as Flemings' length before it stops")
{
    // Flemings, Solidification Processing (1974), the length of run in a channel with constant heat transfer,
    // from memory: L = v d rho (f L_f + c dT) / (2 h (T_melting − T0)) for a plate channel of thickness d, f
    // the solid fraction at which metal stops. It takes the metal at its melting point all along; here the
    // superheat of 100 K is lost by the exact exponential, and both are compared.
    const double fraction = 0.4;
    const Channel channel{1e-3, 0.15, 600};
    const conduction::Outcome out = conduct(channel.section());
    const double superheated =
        heat / channel.per_length() * std::log((poured - outside) / (channel.melting - outside));
    const double frozen = fraction * latent / (channel.per_length() * (channel.melting - outside));
    const double flemings = (fraction * latent + heat * (poured - channel.melting)) /
                            (channel.per_length() * (channel.melting - outside));
    const double run = length_until(channel, out, fraction);
    MESSAGE("runs " << run << " m, exact " << superheated + frozen << ", Flemings " << flemings);
    // What is solid stays where it is, so that what follows runs a little further than a slug.
    CHECK(std::abs(relative(run, superheated + frozen)) < 0.04);
    CHECK(std::abs(relative(run, flemings)) < 0.05);
}
