#pragma once
// A table for people, in Markdown.

#include <string>
#include <vector>

namespace sandfreeze::bench
{

class Table
{
public:
    explicit Table(std::vector<std::string> heading);
    void add(std::vector<std::string> row);
    /// Columns aligned to the right.
    std::string text() const;

private:
    std::vector<std::vector<std::string>> rows_;
};

}  // namespace sandfreeze::bench
