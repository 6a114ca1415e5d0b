#include "solver/state.hpp"

#include <algorithm>
#include <cstring>
#include <numeric>
#include <utility>

namespace sandfreeze::solver
{

std::size_t size_of(NumberType type)
{
    switch (type) {
    case NumberType::float64:
    case NumberType::uint64:
        return 8;
    case NumberType::float32:
    case NumberType::int32:
    case NumberType::uint32:
        return 4;
    case NumberType::uint16:
        return 2;
    default:
        return 1;
    }
}

StateArray StateArray::of_own(std::string name, NumberType type, std::vector<std::byte> values)
{
    StateArray array;
    array.name = std::move(name);
    array.type = type;
    array.own_ = std::move(values);
    array.values = array.own_;  // where they are stays the same when the array is moved
    return array;
}

StateArray StateArray::referring(std::string name, NumberType type, std::span<const std::byte> values)
{
    StateArray array;
    array.name = std::move(name);
    array.type = type;
    array.values = values;
    return array;
}

Archive::Archive(const State& from)
    : from_(&from)
    , by_name_(from.size())
{
    std::iota(by_name_.begin(), by_name_.end(), std::size_t{0});
    std::sort(by_name_.begin(), by_name_.end(),
              [&](std::size_t a, std::size_t b) { return from[a].name < from[b].name; });
}

void Archive::text(std::string_view name, std::string& value)
{
    std::vector<std::uint8_t> bytes(value.begin(), value.end());
    if (is_reading()) bytes.resize(find(name, NumberType::uint8).count());
    copied(name, NumberType::uint8, std::as_writable_bytes(std::span(bytes)));
    value.assign(bytes.begin(), bytes.end());
}

void Archive::refuse(std::string_view name, std::string_view why) const
{
    throw StateError("its \"" + prefix_ + std::string(name) + "\" " + std::string(why));
}

const StateArray& Archive::find(std::string_view name, NumberType type) const
{
    const std::string full = prefix_ + std::string(name);
    const auto found =
        std::lower_bound(by_name_.begin(), by_name_.end(), full,
                         [&](std::size_t k, const std::string& wanted) { return (*from_)[k].name < wanted; });
    if (found == by_name_.end() || (*from_)[*found].name != full) refuse(name, "is missing");
    if ((*from_)[*found].type != type) refuse(name, "holds another kind of number");
    return (*from_)[*found];
}

void Archive::read(std::string_view name, NumberType type, std::span<std::byte> values)
{
    const StateArray& array = find(name, type);
    if (array.values.size() != values.size()) refuse(name, "has another length");
    if (!values.empty()) std::memcpy(values.data(), array.values.data(), values.size());
}

void Archive::copied(std::string_view name, NumberType type, std::span<std::byte> values)
{
    if (is_reading())
        read(name, type, values);
    else
        out_.push_back(StateArray::of_own(prefix_ + std::string(name), type, {values.begin(), values.end()}));
}

void Archive::in_place(std::string_view name, NumberType type, std::span<std::byte> values)
{
    if (is_reading())
        read(name, type, values);
    else
        out_.push_back(StateArray::referring(prefix_ + std::string(name), type, values));
}

}  // namespace sandfreeze::solver
