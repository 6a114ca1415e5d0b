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
constexpr std::size_t input_width = 30;
constexpr std::size_t range_width = 8;
constexpr std::size_t last_width = 15;

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

/// "gate 'a' +2.1 of 5.2 s" by the end that moves it more.
std::string margin_words(const solver::UncertainInput& input)
{
    if (!input.margin) return "";
    const std::optional<double> low = input.low.margin_change;
    const std::optional<double> high = input.high.margin_change;
    const std::optional<double> change = std::abs(low.value_or(0)) > std::abs(high.value_or(0)) ? low : high;
    std::string of = input.margin_of;
    if (of.starts_with("margin of ")) of.erase(0, 10);
    const std::string figures = signed_words(change, 1) + " s";
    constexpr std::size_t room = screen_width - input_width - range_width - last_width - 3;
    return padded(shortened(of, room - 9), room - 9) + right_aligned(figures, 9);
}

std::string line_of(const std::string& input, const std::string& range, const std::string& last,
                    const std::string& margin)
{
    std::string line = padded(shortened(input, input_width), input_width) + ' ' +
                       right_aligned(range, range_width) + ' ' + right_aligned(last, last_width) + ' ' +
                       margin;
    line.erase(line.find_last_not_of(' ') + 1);
    return line + '\n';
}

}  // namespace

std::string matters_notice(std::size_t inputs, double seconds_of_answer, int threads)
{
    const auto solves = solver::solves_foreseen(inputs);
    const double rounds = std::ceil(static_cast<double>(solves) / std::max(threads, 1));
    return "What matters: " + count_words(inputs, "uncertain input") + ", about " +
           count_words(solves, "more solve") + ", at most some " +
           time_words(std::ceil(rounds * seconds_of_answer)) + ". Ctrl-C ends it and keeps the answer.\n";
}

std::string matters_text(const solver::WhatMatters& matters)
{
    std::string text = "What matters, each input alone over its range (" +
                       count_words(matters.solves, "more solve") + ")\n" +
                       line_of("", "range", "last metal, %", "moves most");
    const std::size_t rows = std::min(matters.inputs.size(), most_rows);
    for (std::size_t k = 0; k < rows; ++k) {
        const solver::UncertainInput& input = matters.inputs[k];
        text += line_of(input.input, input.range,
                        both(input.low.last_freeze_change_percent, input.high.last_freeze_change_percent),
                        margin_words(input));
    }
    if (matters.inputs.size() > rows)
        text += "and " + std::to_string(matters.inputs.size() - rows) +
                " more, which move less: see summary.json\n";
    for (const std::string& line : labelled_lines("", matters.because))
        text += line + '\n';
    return text;
}

}  // namespace sandfreeze::tools
