#pragma once
// What is under way as a flat list of named arrays, and the one way in which it is carried out and in.

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace sandfreeze::solver
{

enum class NumberType : std::uint8_t { float64, float32, int32, uint64, uint32, uint16, uint8 };

std::size_t size_of(NumberType type);  ///< [bytes]

/// One array of a state, in this machine's order of bytes. It owns its values, or refers to those of
/// something that goes on living.
class StateArray
{
public:
    static StateArray of_own(std::string name, NumberType type, std::vector<std::byte> values);
    static StateArray referring(std::string name, NumberType type, std::span<const std::byte> values);
    StateArray(StateArray&&) = default;
    StateArray& operator=(StateArray&&) = default;
    StateArray copy() const { return of_own(name, type, {values.begin(), values.end()}); }

    std::size_t count() const { return values.size() / size_of(type); }

    std::string name;
    NumberType type = NumberType::uint8;
    std::span<const std::byte> values;

private:
    StateArray() = default;
    std::vector<std::byte> own_;
};

using State = std::vector<StateArray>;

/// A state does not fit what is to go on from it. Text: which array, and why.
class StateError : public std::runtime_error
{
public:
    using std::runtime_error::runtime_error;
};

template <class T>
concept Number = std::is_arithmetic_v<T> || std::is_enum_v<T>;

template <Number T>
constexpr NumberType number_type()
{
    if constexpr (std::is_floating_point_v<T>)
        return sizeof(T) == 8 ? NumberType::float64 : NumberType::float32;
    else if constexpr (sizeof(T) == 8)
        return NumberType::uint64;
    else if constexpr (sizeof(T) == 4)
        return std::is_unsigned_v<T> ? NumberType::uint32 : NumberType::int32;
    else
        return sizeof(T) == 2 ? NumberType::uint16 : NumberType::uint8;
}

/// Carries what is under way out into a state, or in from one. Each class has one member `carry(Archive&)`
/// for both, so that the two cannot drift apart. Reading throws StateError where an array is missing or of
/// another kind or length.
class Archive
{
public:
    /// Out. Large arrays stay where they are: the state refers to them.
    Archive() = default;
    /// In; the state must outlive the archive.
    explicit Archive(const State& from);

    bool is_reading() const { return from_ != nullptr; }
    /// What was carried out.
    State take() { return std::move(out_); }

    /// A number.
    template <Number T>
    void operator()(std::string_view name, T& value)
    {
        if constexpr (std::same_as<T, bool>) {
            std::uint8_t byte = value ? 1 : 0;
            (*this)(name, byte);
            value = byte != 0;
        } else {
            copied(name, number_type<T>(), std::as_writable_bytes(std::span(&value, 1)));
        }
    }
    /// One of the first `count` values of an enum.
    template <class Enum>
    void choice(std::string_view name, Enum& value, int count)
    {
        auto number = static_cast<int>(value);
        (*this)(name, number);
        if (number < 0 || number >= count) refuse(name, "is out of range");
        value = static_cast<Enum>(number);
    }
    /// An array whose length is known beforehand.
    template <Number T, class Allocator>
    void operator()(std::string_view name, std::vector<T, Allocator>& values)
    {
        in_place(name, number_type<T>(), std::as_writable_bytes(std::span(values)));
    }
    template <Number T, std::size_t count>
    void operator()(std::string_view name, std::array<T, count>& values)
    {
        in_place(name, number_type<T>(), std::as_writable_bytes(std::span(values)));
    }
    /// The same of an array that does not outlive the state.
    template <Number T>
    void copy(std::string_view name, std::vector<T>& values)
    {
        copied(name, number_type<T>(), std::as_writable_bytes(std::span(values)));
    }
    /// A list that may have any length.
    template <Number T>
    void list(std::string_view name, std::vector<T>& values)
    {
        if (is_reading()) values.resize(find(name, number_type<T>()).count());
        (*this)(name, values);
    }
    void text(std::string_view name, std::string& value);
    template <class T>
    void operator()(std::string_view name, std::optional<T>& value)
    {
        bool there = value.has_value();
        (*this)(std::string(name) + "?", there);
        if (is_reading()) value.reset();
        if (is_reading() && there) value.emplace();
        if (there) (*this)(name, *value);
    }
    /// One member of each row of a table whose length is known beforehand.
    template <class Row, class Member>
    void column(std::string_view name, std::vector<Row>& rows, Member member)
    {
        using T = std::remove_cvref_t<decltype(std::declval<Row&>().*member)>;
        std::vector<T> values;
        values.reserve(rows.size());
        for (const Row& row : rows)
            values.push_back(row.*member);
        copied(name, number_type<T>(), std::as_writable_bytes(std::span(values)));
        for (std::size_t k = 0; k < rows.size(); ++k)
            rows[k].*member = values[k];
    }
    /// Whatever can carry itself; its arrays get this name before their own.
    template <class Carried>
    requires requires(Carried& carried, Archive& archive) { carried.carry(archive); }
    void operator()(std::string_view name, Carried& carried)
    {
        within(name, [&] { carried.carry(*this); });
    }
    template <class Body>
    void within(std::string_view name, const Body& body)
    {
        const std::size_t before = prefix_.size();
        prefix_.append(name).push_back('.');
        body();
        prefix_.resize(before);
    }

    /// Throws StateError about one array.
    [[noreturn]] void refuse(std::string_view name, std::string_view why) const;

private:
    const StateArray& find(std::string_view name, NumberType type) const;
    void copied(std::string_view name, NumberType type, std::span<std::byte> values);
    void in_place(std::string_view name, NumberType type, std::span<std::byte> values);
    void read(std::string_view name, NumberType type, std::span<std::byte> values);

    const State* from_ = nullptr;
    std::vector<std::size_t> by_name_;  ///< of the state's arrays, sorted
    State out_;
    std::string prefix_;
};

}  // namespace sandfreeze::solver
