#include "io/read_lists.hpp"

#include <set>

#include "io/case_checks.hpp"
#include "io/read_heights.hpp"
#include "io/read_shapes.hpp"
#include "io/text.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr double mm = 1e-3;

/// The name must be new in its list, and a region's no part's either.
void check_new_name(const Block& block, std::string_view kind, const std::string& name,
                    std::set<std::string>& names, Draft& draft)
{
    if (name.empty()) return;
    for (const solver::Part& part : draft.case_.parts)
        if (kind == "region" && part.name == name)
            draft.problem(block.place_of("name"),
                          "there are a part and a region named " + quoted(name) + "; give one another name");
    if (!names.insert(name).second)
        draft.problem(block.place_of("name"), "there are two " + std::string(kind) + "s named " +
                                                  quoted(name) + "; give one another name");
}

void check_inside(const Block& block, const mesh::Box& b, Draft& draft)
{
    const mesh::Box& box = draft.case_.section.box;
    if (b.x1 <= box.x0 || b.x0 >= box.x1 || b.y1 <= box.y0 || b.y0 >= box.y1)
        draft.problem(block.place(), block.label() + " lies wholly outside the sand box; move it");
}

void check_probe(const Block& block, mesh::Point at, Draft& draft)
{
    const mesh::Box& box = draft.case_.section.box;
    if (at.x >= box.x0 && at.x <= box.x1 && at.y >= box.y0 && at.y <= box.y1) return;
    const auto text = [](double metres) { return rounded_text(metres / mm, 6); };
    draft.problem(block.place_of("at_mm"), block.label() + " lies outside the sand box (x " + text(box.x0) +
                                               " to " + text(box.x1) + " mm, y " + text(box.y0) + " to " +
                                               text(box.y1) + " mm); move it inside");
}

/// One value from pour to shake-out, or one for liquid metal and one for the gap; with a coating in series.
void read_heat_transfer(Block& block, solver::Contact& contact, Draft& draft)
{
    const auto given = [&](const char* key) { return block.has(key) || block.is_faulty(key); };
    const bool one = given("h_W_m2K");
    const bool liquid = given("h_liquid_W_m2K");
    const bool gap = given("h_gap_W_m2K");
    if (one && (liquid || gap))
        draft.problem(block.place_of(liquid ? "h_liquid_W_m2K" : "h_gap_W_m2K"),
                      block.label() + " has h_W_m2K, one value from pour to shake-out, and one for a gap as "
                                      "well; take one of them out");
    else if (liquid != gap)
        draft.problem(block.place(), block.label() + " has " + (liquid ? "h_liquid_W_m2K" : "h_gap_W_m2K") +
                                         " and no " + (liquid ? "h_gap_W_m2K" : "h_liquid_W_m2K") +
                                         "; give both, or one h_W_m2K");
    else if (!one && !liquid)
        draft.problem(block.place(), block.label() + " has no h_W_m2K; expected " +
                                         "the heat transfer in W/m2/K, inf for perfect contact");
    const double thickness = block.number("coating_mm", 0) * mm;
    const bool conducts = given("coating_conductivity_W_mK");
    if ((thickness > 0) != conducts)
        draft.problem(block.place_of(conducts ? "coating_conductivity_W_mK" : "coating_mm"),
                      block.label() + " has " + (conducts ? "coating_conductivity_W_mK" : "coating_mm") +
                          " and no " + (conducts ? "coating_mm" : "coating_conductivity_W_mK") +
                          "; a coating needs both");
    const double coating =
        thickness > 0 && conducts ? thickness / block.number("coating_conductivity_W_mK", 1) : 0;
    const auto through_coating = [&](double h) { return coating > 0 ? 1 / (1 / h + coating) : h; };
    if (liquid && gap) {
        contact.h = through_coating(block.number("h_liquid_W_m2K"));
        contact.h_gap = through_coating(block.number("h_gap_W_m2K"));
    } else {
        contact.h = through_coating(block.number("h_W_m2K"));
    }
}

}  // namespace

void read_contacts(const TomlValue* list, const MaterialShelf& shelf, Draft& draft)
{
    if (list == nullptr) return;
    const std::vector<std::string> names = contact_names(shelf, draft);
    for (std::size_t c = 0; c < list->items.size(); ++c) {
        Block block(list->items[c], table_spec("contact"), "[[contact]] " + std::to_string(c + 1), draft);
        block.require();
        solver::Contact contact;
        if (const TomlValue* between = block.find("between")) {
            contact.between = {between->items[0].text, between->items[1].text};
            check_contact(contact, block, names, draft);
            block.note("between", '[' + quoted(contact.between[0]) + ", " + quoted(contact.between[1]) + ']');
        }
        read_heat_transfer(block, contact, draft);
        block.echo(c);
        draft.case_.contacts.push_back(std::move(contact));
    }
}

void read_regions(const TomlValue* list, bool boxed, Draft& draft)
{
    std::set<std::string> names;
    for (std::size_t r = 0; list != nullptr && r < list->items.size(); ++r) {
        Block block(list->items[r], table_spec("region"), table_label("region", list->items[r], r), draft);
        block.require();
        solver::Region region{block.text("name"), {}};
        check_new_name(block, "region", region.name, names, draft);
        if (const auto shape = read_shape(block, draft)) {
            region.shape = painted(*shape);
            if (boxed) check_inside(block, mesh::bounding_box(region.shape), draft);
        }
        if (draft.view == CaseView::plan) region.reach = read_region_reach(block, draft);
        block.echo(r);
        draft.case_.regions.push_back(std::move(region));
        draft.region_places.push_back(block.place());
    }
}

void read_probes(const TomlValue* list, bool boxed, Draft& draft)
{
    std::set<std::string> names;
    for (std::size_t p = 0; list != nullptr && p < list->items.size(); ++p) {
        Block block(list->items[p], table_spec("probe"), table_label("probe", list->items[p], p), draft);
        block.require();
        solver::Probe probe{block.text("name"), {}};
        check_new_name(block, "probe", probe.name, names, draft);
        if (const TomlValue* at = block.find("at_mm")) {
            probe.at = {at->items[0].number * mm, at->items[1].number * mm};
            if (boxed) check_probe(block, {probe.at.x, probe.at.y}, draft);
        }
        if (draft.view == CaseView::plan) probe.at.z = read_probe_height(block, draft);
        block.echo(p);
        draft.case_.probes.push_back(std::move(probe));
    }
}

void read_checks(const TomlValue* list, Draft& draft)
{
    for (std::size_t c = 0; list != nullptr && c < list->items.size(); ++c) {
        Block block(list->items[c], table_spec("check"), "[[check]] " + std::to_string(c + 1), draft);
        block.require();
        solver::Check check{block.text("first"), block.text("then"), block.number("margin_s")};
        check_check(check, block, draft);
        block.echo(c);
        draft.case_.checks.push_back(std::move(check));
    }
}

}  // namespace sandfreeze::io
