#pragma once
// A value of a data file, whatever it is, with what a message about it needs.

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "materials/curve.hpp"
#include "materials/data_files.hpp"
#include "materials/material.hpp"

namespace sandfreeze::materials
{

class DataValue
{
public:
    struct List {
        std::vector<DataValue> items;
    };
    struct Table {
        std::vector<DataValue> members;  ///< in the order of the file
    };
    /// Nothing stands for what no data file has, such as a date.
    using Content = std::variant<std::monostate, double, std::string, List, Table>;

    /// `file` must outlive it.
    DataValue(std::string_view file, std::string key, unsigned line, Content content);

    const std::string& key() const { return key_; }
    /// Throws DataError with file, line, key and what is wrong with it, as all below do.
    [[noreturn]] void refuse(const std::string& what) const;

    const std::string& text() const;
    double number() const;
    Curve curve() const;           ///< of a number or a table [[T_C, value], …]
    PhaseProperty phases() const;  ///< of such, or { solid = …, liquid = … } of such
    std::vector<Curve::Knot> knots() const;
    const std::vector<DataValue>& items() const;    ///< of a list
    const std::vector<DataValue>& members() const;  ///< of a table
    std::string as_written() const;

    bool is_table() const { return std::holds_alternative<Table>(content_); }
    bool is_list() const { return std::holds_alternative<List>(content_); }
    bool is_text() const { return std::holds_alternative<std::string>(content_); }

private:
    std::string_view file_;
    std::string key_;
    unsigned line_;
    Content content_;
};

/// All of a file, as a table. Throws DataError where it is not TOML.
DataValue parse(const DataFile& file);

}  // namespace sandfreeze::materials
