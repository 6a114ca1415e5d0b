#pragma once
// One table of a case file, held against its part of the schema.

#include <map>
#include <set>
#include <string>
#include <string_view>

#include "io/draft.hpp"
#include "io/schema.hpp"
#include "io/toml_reader.hpp"

namespace sandfreeze::io
{

/// What messages call a [[table]]: `[[part]] "plate"`, or by its number where it has no name.
std::string table_label(std::string_view name, const TomlValue& table, std::size_t item);

class Block
{
public:
    /// Checks every key: known, of this view, built, right in type and range; reports to the draft. `label`
    /// is what messages call the table, such as `[[part]] "plate"`. Keeps references to all three.
    Block(const TomlValue& table, const TableSpec& spec, std::string label, Draft& draft);

    /// Reports the keys that must be given and are not.
    void require();

    const std::string& label() const { return label_; }
    Place place() const { return table_->place; }
    /// Where the key's value stands, else where the table begins.
    Place place_of(std::string_view key) const;

    /// The key's value; nullptr when it is not given or not right.
    const TomlValue* find(std::string_view key) const;
    bool has(std::string_view key) const { return find(key) != nullptr; }
    /// Whether it is given but wrong, which has been reported.
    bool is_faulty(std::string_view key) const { return faulty_.contains(std::string(key)); }

    /// The value given, else the schema's default.
    double number(std::string_view key) const;
    std::string text(std::string_view key) const;
    /// The value given, else the one computed, which is kept for the echo.
    double number(std::string_view key, double otherwise);
    std::string text(std::string_view key, std::string_view otherwise);
    bool truth(std::string_view key, bool otherwise);

    /// What the echo shows for a key: TOML text, in place of what was given or defaulted.
    void note(std::string_view key, std::string toml) { noted_[std::string(key)] = std::move(toml); }
    /// Adds the echo of all keys to the draft.
    void echo(std::size_t item = 0) const;

private:
    void check_entry(const TomlEntry& entry);
    void report_unknown(const TomlEntry& entry);
    bool belongs_here(const TomlEntry& entry, const KeySpec& key);
    bool is_built(const TomlEntry& entry, const KeySpec& key);

    const TomlValue* table_;
    const TableSpec* spec_;
    std::string label_;
    Draft* draft_;
    std::map<std::string, const TomlEntry*, std::less<>> right_;
    std::set<std::string> faulty_;
    std::map<std::string, std::string, std::less<>> noted_;
};

}  // namespace sandfreeze::io
