#include "plan_case.hpp"

#include <doctest/doctest.h>

namespace sandfreeze::io::testing
{

std::string_view plan_case()
{
    static const std::string text = std::string(R"(title = "Plate"
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
)")
                                        .append(materials_of_cases());
    return text;
}

std::string changed_plan(std::string_view from, std::string_view to)
{
    if (from.empty()) return std::string(plan_case()).append(to);
    return replaced(plan_case(), from, to);
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

}  // namespace sandfreeze::io::testing
