#include "base_case.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "io/case_file.hpp"

namespace sandfreeze::io::testing
{

std::string_view materials_of_cases()
{
    return R"([[material]]
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

std::string_view base_case()
{
    static const std::string text = std::string(R"(title = "Bar"
format = 1
[section]
view = "planar"
cell_mm = 2
x_mm = [0, 100]
y_mm = [0, 80]
depth_mm = 50
[mould]
material = "sand"
[pour]
temperature_C = 700
[[part]]
name = "bar"
role = "casting"
material = "alloy"
rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
[[part]]
name = "neck"
role = "neck"
material = "alloy"
rectangle = { x_mm = [44, 56], y_mm = [30, 36] }
[[part]]
name = "feeder"
role = "feeder"
material = "alloy"
rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
[[part]]
name = "block"
role = "chill"
material = "steel"
rectangle = { x_mm = [20, 40], y_mm = [10, 20] }
)")
                                        .append(materials_of_cases());
    return text;
}

std::string replaced(std::string_view text, std::string_view from, std::string_view to)
{
    std::string out(text);
    const auto at = out.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, "not in the text: " << from);
    return out.replace(at, from.size(), to);
}

std::string changed(std::string_view from, std::string_view to)
{
    return replaced(base_case(), from, to);
}

std::string with(std::string_view lines)
{
    return std::string(base_case()) + std::string(lines);
}

std::vector<std::string> problems_of(std::string_view text)
{
    std::vector<std::string> out;
    try {
        (void)read_case(text, "case.toml");
    } catch (const InputError& error) {
        for (const Problem& problem : error.problems())
            out.push_back(std::to_string(problem.line) + ':' + std::to_string(problem.column) + ' ' +
                          problem.message);
    }
    return out;
}

void check_all(const std::vector<Mistake>& mistakes)
{
    for (const Mistake& mistake : mistakes) {
        INFO(mistake.claim);
        const std::string text = mistake.from.empty() ? with(mistake.to) : changed(mistake.from, mistake.to);
        CHECK(problems_of(text) == mistake.said);
    }
}

std::string case_text(const std::string& name)
{
    std::ifstream file(std::string(SANDFREEZE_TEST_CASES) + '/' + name);
    REQUIRE(file.good());
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

std::vector<std::string> case_names()
{
    std::vector<std::string> out;
    const std::filesystem::path top(SANDFREEZE_TEST_CASES);
    for (const auto& entry : std::filesystem::recursive_directory_iterator(top))
        if (entry.path().extension() == ".toml") out.push_back(entry.path().lexically_relative(top).string());
    std::sort(out.begin(), out.end());
    return out;
}

std::vector<std::string> warnings_of(std::string_view text)
{
    return read_case(text, "case.toml").warnings;
}

}  // namespace sandfreeze::io::testing
