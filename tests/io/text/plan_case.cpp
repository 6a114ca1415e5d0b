#include "plan_case.hpp"

#include <doctest/doctest.h>

#include "io/case_file.hpp"

namespace sandfreeze::io::testing
{

std::string_view plan_case()
{
    return R"(title = "Plate"
format = 1
[section]
view = "plan"
cell_mm = 2
x_mm = [0, 100]
y_mm = [0, 80]
z_mm = [-30, 70]
[mould]
material = "sand"
[pour]
temperature_C = 700
[[part]]
name = "plate"
role = "casting"
material = "alloy"
rectangle = { x_mm = [20, 80], y_mm = [20, 60] }
z_mm = [0, 10]
[[part]]
name = "feeder"
role = "feeder"
material = "alloy"
rectangle = { x_mm = [30, 60], y_mm = [30, 50] }
z_mm = [10, 50]
[[part]]
name = "block"
role = "chill"
material = "steel"
rectangle = { x_mm = [60, 80], y_mm = [20, 40] }
z_mm = [-10, 0]
[[material]]
name = "sand"
kind = "mould"
density_kg_m3 = 1600
specific_heat_J_kgK = 1100
conductivity_W_mK = 0.7
[[material]]
name = "alloy"
kind = "metal"
density_kg_m3 = 2400
specific_heat_J_kgK = 1100
conductivity_W_mK = 100
liquidus_C = 600
solidus_C = 560
latent_heat_J_kg = 400000
[[material]]
name = "steel"
kind = "chill"
density_kg_m3 = 7800
specific_heat_J_kgK = 500
conductivity_W_mK = 45
)";
}

std::string changed_plan(std::string_view from, std::string_view to)
{
    std::string text(plan_case());
    if (from.empty()) return text + std::string(to);
    const auto at = text.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, "not in the plan: " << from);
    return text.replace(at, from.size(), to);
}

std::string plan_part(const std::string& name, const std::string& role, const std::string& shape,
                      const std::string& z)
{
    const std::string material = role == "chill" ? "steel" : "alloy";
    return "[[part]]\nname = \"" + name + "\"\nrole = \"" + role + "\"\nmaterial = \"" + material + "\"\n" +
           shape + "\nz_mm = " + z + "\n";
}

void check_all_in_plan(const std::vector<Mistake>& mistakes)
{
    for (const Mistake& mistake : mistakes) {
        INFO(mistake.claim);
        CHECK(problems_of(changed_plan(mistake.from, mistake.to)) == mistake.said);
    }
}

std::vector<std::string> warnings_of(std::string_view text)
{
    return read_case(text, "case.toml").warnings;
}

}  // namespace sandfreeze::io::testing
