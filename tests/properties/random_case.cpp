#include "properties/random_case.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <vector>

#include "io/text.hpp"

namespace sandfreeze::properties
{

namespace
{

using io::number_text;

/// One of least ... most.
int number(int least, int most)
{
    return *rc::gen::inRange(least, most + 1);
}

/// True once in so many times; shrinks to false.
bool once_in(int times)
{
    return number(0, times - 1) == times - 1;
}

/// Between the two, evenly in the logarithm, in a hundred steps, of three digits.
double spread(double least, double most)
{
    return std::stod(io::rounded_text(least * std::pow(most / least, 0.01 * number(0, 100)), 3));
}

template <class T>
T one_of(std::initializer_list<T> choices)
{
    return choices.begin()[number(0, static_cast<int>(choices.size()) - 1)];
}

std::string line(const std::string& key, double value)
{
    return key + " = " + number_text(value) + '\n';
}

std::string line(const std::string& key, const std::string& value)
{
    return key + " = \"" + value + "\"\n";
}

std::string interval(double from, double to)
{
    return '[' + number_text(from) + ", " + number_text(to) + ']';
}

/// A rectangle in whole cells.
struct Block {
    int x0 = 0;
    int x1 = 0;
    int y0 = 0;
    int y1 = 0;

    int width() const { return x1 - x0; }
    int height() const { return y1 - y0; }
};

/// Draws a case table by table.
class Drawing
{
public:
    explicit Drawing(Contents contents)
        : all_(contents == Contents::anything)
        , one_mould_(contents == Contents::one_mould)
        , of_a_size_(contents == Contents::sand_castings)
    {
    }

    std::string text();

private:
    std::string section() const;
    std::string sand();
    std::string alloy();
    std::string freezing();
    std::string mould() const;
    std::string pour() const;
    std::string edges() const;
    std::string contacts() const;
    std::string parts();
    std::string part(const std::string& name, const std::string& role, const std::string& material,
                     const Block& block, const std::string& more = {});
    std::string heat_property(const std::string& key, double value) const;
    std::string probes() const;
    double mm(int cells) const { return cells * cell_mm_; }

    bool all_;
    bool one_mould_;
    bool of_a_size_;
    std::string view_;
    double cell_mm_ = 1;
    double liquidus_ = 0;
    double solidus_ = 0;
    bool library_alloy_ = false;
    bool hardly_freezes_ = false;
    bool library_sand_ = false;
    std::vector<Block> blocks_;
    Block casting_;
    bool feeder_ = false;
    int margin_ = 0;
};

std::string Drawing::heat_property(const std::string& key, double value) const
{
    if (!all_ || !once_in(4)) return line(key, value);
    const double later = value * number(50, 200) / 100.0;
    return key + " = [[20, " + number_text(value) + "], [" + number_text(solidus_) + ", " +
           number_text(later) + "]]\n";
}

std::string Drawing::sand()
{
    library_sand_ = all_ && once_in(3);
    if (library_sand_) return {};
    return "[[material]]\n" + line("name", "the sand") + line("kind", "mould") +
           line("density_kg_m3", number(1000, 4000)) +
           heat_property("specific_heat_J_kgK", number(600, 1300)) +
           heat_property("conductivity_W_mK", spread(0.1, 5));
}

std::string Drawing::freezing()
{
    liquidus_ = number(200, 1500);
    const int range = one_of({0, 1, 10, 30, 60, 150});
    solidus_ = liquidus_ - range;
    std::string out = line("liquidus_C", liquidus_) + line("solidus_C", solidus_);
    if (range > 0 && once_in(3)) {
        const double middle = liquidus_ - 0.01 * range * number(10, 90);
        out += "solid_fraction = [[" + number_text(solidus_) + ", 1], [" + number_text(middle) + ", " +
               number_text(0.01 * number(1, 99)) + "], [" + number_text(liquidus_) + ", 0]]\n";
    } else if (range > 0 && once_in(4)) {
        out += line("solid_fraction", one_of<const char*>({"scheil", "lever"})) +
               line("melting_point_C", liquidus_ + number(5, 200)) +
               line("partition_coefficient", 0.01 * number(5, 95)) + line("eutectic_C", solidus_);
    }
    return out;
}

std::string Drawing::alloy()
{
    library_alloy_ = all_ && once_in(4);
    if (library_alloy_) {
        liquidus_ = 660;
        solidus_ = 500;
        return {};
    }
    std::string out = "[[material]]\n" + line("name", "the alloy") + line("kind", "metal") + freezing();
    out += line("density_kg_m3", number(1700, 9000));
    hardly_freezes_ = all_ && once_in(8);
    out += line("latent_heat_J_kg", hardly_freezes_ ? one_of({1e-3, 1e3}) : one_of({5e4, 2e5, 4e5, 6e5}));
    out += line("shrinkage_percent", 0.1 * number(-20, 80));
    out += line("feeding_limit", 0.01 * number(10, 100));
    out += heat_property("specific_heat_J_kgK", number(200, 1300));
    if (!one_mould_ && once_in(3))
        out += "conductivity_W_mK = { solid = " + number_text(spread(10, 400)) +
               ", liquid = " + number_text(spread(10, 200)) + " }\n";
    else
        out += line("conductivity_W_mK", spread(10, 400));
    if (once_in(2)) out += line("liquid_contraction_percent_per_100K", 0.1 * number(0, 30));
    return out;
}

std::string Drawing::section() const
{
    std::string out = "format = 1\n[section]\n" + line("view", view_) + line("cell_mm", cell_mm_) +
                      line("sand_margin_mm", mm(margin_));
    if (view_ == "plan") {
        out += "z_mm = " + interval(-mm(number(1, 4)), mm(number(5, 10))) + '\n';
        out += line("levels", one_of<const char*>({"auto", "coarse", "cells"}));
    }
    return out;
}

std::string Drawing::mould() const
{
    std::string out = "[mould]\n";
    if (!library_sand_) {
        out += line("material", "the sand");
        if (all_ && once_in(4)) out += line("moisture_percent", number(1, 15));
    } else {
        out += line("material", one_of<const char*>({"green sand", "resin sand", "zircon sand", "plaster"}));
    }
    if (!one_mould_) out += line("temperature_C", number(0, 90));
    if (all_) out += line("water", one_of<const char*>({"boils", "boils", "condenses"}));
    return out;
}

std::string Drawing::pour() const
{
    std::string out = "[pour]\n" + line("temperature_C", liquidus_ + number(hardly_freezes_ ? 1 : 0, 200));
    if (all_ && once_in(4))
        out += line("fill_time_s", spread(0.2, 20)) + line("enters", feeder_ ? "feeder" : "casting");
    return out;
}

std::string Drawing::edges() const
{
    std::string out = "[edges]\n";
    std::vector<std::string> sides{"left", "right", "bottom", "top"};
    if (view_ == "plan") sides.insert(sides.end(), {"below", "above"});
    for (const std::string& side : sides) {
        if (view_ == "axisymmetric" && side == "left") continue;
        const int kind = number(0, 3);
        if (kind == 1) out += side + " = \"insulated\"\n";
        if (kind == 2)
            out += side + " = { temperature_C = " + number_text(one_mould_ ? 20 : number(0, 150)) + " }\n";
        if (kind == 3)
            out += side + " = { h_W_m2K = " + number_text(spread(1, 1000)) +
                   ", air_C = " + number_text(one_mould_ ? 20 : number(0, 60)) + " }\n";
    }
    return out;
}

std::string Drawing::contacts() const
{
    std::string out;
    if (one_mould_ || once_in(3)) {  // else the library's own
        out = "[[contact]]\nbetween = [\"metal\", \"mould\"]\n";
        if (one_mould_ || once_in(2))
            out += "h_W_m2K = " + (once_in(6) ? std::string("inf") : number_text(spread(1, 1e6))) + '\n';
        else {
            const double liquid = spread(100, 1e5);
            out += line("h_liquid_W_m2K", liquid) + line("h_gap_W_m2K", liquid * 0.01 * number(5, 100));
        }
    }
    if (!one_mould_ && once_in(3))
        out += "[[contact]]\nbetween = [\"metal\", \"chill\"]\n" + line("h_W_m2K", spread(10, 1e5));
    return out;
}

std::string Drawing::part(const std::string& name, const std::string& role, const std::string& material,
                          const Block& block, const std::string& more)
{
    blocks_.push_back(block);
    std::string out = "[[part]]\n" + line("name", name) + line("role", role) + line("material", material);
    const Block& b = block;
    const bool may_be_round = all_ && view_ != "axisymmetric" && b.width() == b.height() && b.width() > 2;
    if (may_be_round && once_in(2))
        out += "circle = { centre_mm = " +
               interval(mm(b.x0) + mm(b.width()) / 2, mm(b.y0) + mm(b.height()) / 2) +
               ", diameter_mm = " + number_text(mm(b.width())) + " }\n";
    else
        out += "rectangle = { x_mm = " + interval(mm(b.x0), mm(b.x1)) +
               ", y_mm = " + interval(mm(b.y0), mm(b.y1)) + " }\n";
    if (view_ == "plan") {
        const bool tall = role == "feeder";
        out += "z_mm = " + interval(0, mm(tall ? number(3, 5) : number(1, 4))) + '\n';
    }
    return out + more;
}

std::string Drawing::parts()
{
    const std::string metal =
        library_alloy_ ? one_of<const char*>({"AlSi12", "AlSi10Mg", "AlSi7Mg0.3"}) : "the alloy";
    casting_ = {0, number(1, 10), 0, number(1, 8)};
    const Block c = casting_;
    std::string out = part("casting", "casting", metal, c);
    if (once_in(3)) {  // a wall that stands on it
        const int from = number(0, c.x1 - 1);
        out += part("wall", "casting", metal, {from, number(from + 1, c.x1), c.y1, c.y1 + number(1, 5)});
    }
    feeder_ = once_in(2);
    if (feeder_) {
        const int neck = once_in(2) ? number(1, 3) : 0;
        if (neck > 0) out += part("neck", "neck", metal, {c.x1, c.x1 + neck, 0, number(1, c.y1)});
        const Block feeder{c.x1 + neck, c.x1 + neck + number(2, 6), 0, number(2, 9)};
        std::string more;
        if (all_ && once_in(3))
            more = "open_top = true\n" + (once_in(2) ? line("cover_mm", number(1, 40)) : "");
        out += part("feeder", "feeder", metal, feeder, more);
        if (all_ && once_in(4))
            out += part("sleeve", "sleeve", one_of<const char*>({"insulating sleeve", "exothermic sleeve"}),
                        {feeder.x1, feeder.x1 + number(1, 2), 0, feeder.y1});
    }
    if (!one_mould_ && once_in(3))
        out += part("chill", "chill", one_of<const char*>({"grey iron", "copper", "graphite"}),
                    {0, number(1, c.x1), -number(1, 3), 0},
                    once_in(4) ? line("temperature_C", number(0, 200)) : "");
    if (!one_mould_ && c.x1 >= 4 && c.y1 >= 4 && once_in(2))
        out += part("core", "core", "resin sand", {1, c.x1 - 1, 1, c.y1 - 1});
    return out;
}

std::string Drawing::probes() const
{
    return "[[probe]]\n" + line("name", "middle") +
           "at_mm = " + interval(mm(casting_.x1) / 2, mm(casting_.y1) / 2) + '\n' +
           (view_ == "plan" ? line("z_mm", cell_mm_ / 2) : "");
}

std::string Drawing::text()
{
    view_ = all_ ? one_of<const char*>({"planar", "planar", "axisymmetric", "plan"}) : "planar";
    cell_mm_ = of_a_size_ ? one_of({2.0, 3.0, 5.0, 8.0}) : one_of({0.5, 1.0, 2.0, 3.0, 5.0, 8.0});
    margin_ = number(of_a_size_ || one_mould_ ? 2 : 0, 6);
    const std::string materials = alloy() + sand();
    const std::string drawn = parts();
    const std::string frame = section() + mould() + pour() + edges();
    return frame + materials + drawn + contacts() + probes();
}

}  // namespace

rc::Gen<std::string> random_case(Contents contents)
{
    return rc::gen::exec([contents] { return Drawing(contents).text(); });
}

}  // namespace sandfreeze::properties
