#include "io/read_edges.hpp"

#include <array>
#include <cmath>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

std::string edge_text(const solver::Edge& edge)
{
    if (edge.kind == solver::Edge::Kind::insulated) return "\"insulated\"";
    if (edge.kind == solver::Edge::Kind::fixed_temperature)
        return "{ temperature_C = " + number_text(edge.temperature) + " }";
    return "{ h_W_m2K = " + number_text(edge.h) + ", air_C = " + number_text(edge.temperature) + " }";
}

void read_edge(const TomlValue& value, const std::string& label, double mould_temperature, solver::Edge& out,
               Draft& draft)
{
    Block block(value, table_spec("edge"), label, draft);
    out.h = block.number("h_W_m2K");
    out.temperature = block.number("air_C", mould_temperature);
    if (!block.has("temperature_C")) return;
    if (block.has("h_W_m2K") || block.has("air_C"))
        draft.problem(block.place_of("temperature_C"),
                      label +
                          " is both held at a temperature and in air; give temperature_C alone, or h_W_m2K "
                          "and air_C");
    out.kind = solver::Edge::Kind::fixed_temperature;
    out.temperature = block.number("temperature_C");
}

}  // namespace

void read_edges(Block& edges, double mould_temperature, Draft& draft)
{
    solver::Edges& out = draft.case_.edges;
    const bool axis = draft.view == CaseView::axisymmetric && std::abs(draft.case_.section.box.x0) <= 1e-12;
    const std::array<std::pair<std::string_view, solver::Edge*>, 6> sides{{{"left", &out.left},
                                                                           {"right", &out.right},
                                                                           {"bottom", &out.bottom},
                                                                           {"top", &out.top},
                                                                           {"below", &out.below},
                                                                           {"above", &out.above}}};
    for (const auto& [name, edge] : sides) {
        edge->temperature = mould_temperature;
        const TomlValue* value = edges.find(name);
        if (value != nullptr && value->type == TomlValue::Type::table)
            read_edge(*value, std::string(name) + " of [edges]", mould_temperature, *edge, draft);
        const bool at_axis = axis && name == "left";
        if (at_axis || (value != nullptr && value->type == TomlValue::Type::text))
            edge->kind = solver::Edge::Kind::insulated;
        if (at_axis && value != nullptr && value->type == TomlValue::Type::table)
            draft.warn(value->place,
                       "left is the axis of this turned section, through which no heat flows; what "
                       "[edges] says of it does nothing");
        edges.note(name, edge_text(*edge));
    }
    edges.echo();
}

}  // namespace sandfreeze::io
