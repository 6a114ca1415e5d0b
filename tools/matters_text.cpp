#include "tools/matters_text.hpp"

#include <algorithm>
#include <cmath>

#include "solver/what_matters.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

constexpr std::size_t most_rows = 6;
constexpr std::size_t input_width = 33;
constexpr std::size_t range_width = 8;
constexpr std::size_t last_width = 11;
constexpr std::size_t change_width = 6;
constexpr std::size_t margin_width = screen_width - input_width - range_width - last_width - 3;

std::string signed_words(std::optional<double> value, int decimals)
{
    if (!value) return "";
    const std::string text = decimal(*value, decimals);
    return *value > 0 && text != "0" ? '+' + text : text;
}

/// "-21 / +45": both ends; of one that was not solved nothing.
std::string both(std::optional<double> low, std::optional<double> high)
{
    const auto decimals = [](std::optional<double> v) { return std::abs(v.value_or(0)) < 9.95 ? 1 : 0; };
    const std::string text = signed_words(high, decimals(high));
    return low ? signed_words(low, decimals(low)) + " / " + text : text;
}

/// What is moved and by how much, by the end that moves it more.
std::string margin_words(const solver::UncertainInput& input)
{
    if (!input.margin) return "";
    const std::optional<double> low = input.low.margin_change;
    const std::optional<double> high = input.high.margin_change;
    const std::optional<double> change = std::abs(low.value_or(0)) > std::abs(high.value_or(0)) ? low : high;
    std::string of = input.margin_of;
    for (const std::string_view opening :
         {"margin of gate ", "margin of neck ", "margin of feeder ", "time to spare from "})
        if (of.starts_with(opening)) of.erase(0, opening.size());
    if (of.starts_with("unfed time ")) of.erase(5, 5);
    const std::size_t room = margin_width - change_width;
    return padded(shortened(of, room), room) + right_aligned(signed_words(change, 1), change_width);
}

std::string line_of(const std::string& input, const std::string& range, const std::string& last,
                    const std::string& margin)
{
    std::string line = padded(shortened(input, input_width), input_width) + ' ' +
                       right_aligned(range, range_width) + ' ' + right_aligned(last, last_width) + ' ' +
                       margin;
    line.erase(line.find_last_not_of(' ') + 1);
    return shortened(line, screen_width) + '\n';
}

/// Those that have no line of their own.
std::string rest_words(const std::vector<solver::UncertainInput>& inputs)
{
    std::string text;
    for (std::size_t k = most_rows; k < inputs.size(); ++k)
        text += (text.empty() ? "Less is moved by " : ", ") + inputs[k].input;
    return text.empty() ? text : text + '.';
}

std::string lines_of(const std::string& words)
{
    std::string text;
    if (words.empty()) return text;
    for (const std::string& line : labelled_lines("", words))
        text += line + '\n';
    return text;
}

}  // namespace

std::string matters_notice(std::size_t inputs, double seconds_of_answer, int threads)
{
    const auto solves = solver::solves_foreseen(inputs);
    const double rounds = std::ceil(static_cast<double>(solves) / std::max(threads, 1));
    return "What matters: " + count_words(inputs, "uncertain input") + ", about " +
           count_words(solves, "more solve") + ", roughly " +
           time_words(std::ceil(rounds * seconds_of_answer)) + ". Ctrl-C keeps the answer.\n";
}

std::string matters_text(const solver::WhatMatters& matters)
{
    std::string text =
        "What matters: each input alone over its range; last metal in %, margins in s\n" +
        line_of("", "range", "last metal",
                padded("moves most", margin_width - change_width) + right_aligned("by", change_width));
    for (std::size_t k = 0; k < std::min(matters.inputs.size(), most_rows); ++k) {
        const solver::UncertainInput& input = matters.inputs[k];
        text += line_of(input.input, input.range,
                        both(input.low.last_freeze_change_percent, input.high.last_freeze_change_percent),
                        margin_words(input));
    }
    return text + lines_of(rest_words(matters.inputs)) + lines_of(matters.because);
}

}  // namespace sandfreeze::tools
