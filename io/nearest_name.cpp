#include "io/nearest_name.hpp"

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

namespace sandfreeze::io
{

namespace
{

std::string lower(std::string_view text)
{
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

/// Edit distance with swaps of neighbours (optimal string alignment).
std::size_t edits(std::string_view a, std::string_view b)
{
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i)
        d[i][0] = i;
    for (std::size_t j = 0; j <= b.size(); ++j)
        d[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i)
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t change = d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, change});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
        }
    return d[a.size()][b.size()];
}

/// What others in the trade call the same.
constexpr std::array<std::pair<std::string_view, std::string_view>, 5> other_words{{{"riser", "feeder"},
                                                                                    {"ingate", "gate"},
                                                                                    {"downsprue", "sprue"},
                                                                                    {"part", "casting"},
                                                                                    {"cast", "casting"}}};

constexpr std::size_t most_edits = 2;
constexpr std::size_t longest_name = 80;
constexpr std::size_t most_listed = 60;

}  // namespace

std::optional<std::string> nearest_name(std::string_view name, std::span<const std::string> candidates)
{
    std::optional<std::string> best;
    std::size_t fewest = most_edits + 1;
    const std::string wanted = lower(name);
    for (const auto& [other, ours] : other_words)
        if (wanted == other && std::find(candidates.begin(), candidates.end(), ours) != candidates.end())
            return std::string(ours);
    for (const std::string& candidate : candidates) {
        const std::size_t longer = std::max(name.size(), candidate.size());
        const std::size_t shorter = std::min(name.size(), candidate.size());
        if (longer - shorter > most_edits || longer > longest_name) continue;
        const std::size_t n = edits(wanted, lower(candidate));
        if (n < fewest && 2 * n < longer) {
            fewest = n;
            best = candidate;
        }
    }
    return best;
}

std::string suggestion(std::string_view name, std::span<const std::string> candidates, std::string_view kind)
{
    if (const auto best = nearest_name(name, candidates)) return "did you mean \"" + *best + "\"?";
    if (candidates.empty()) return "there are no " + std::string(kind);
    std::string out = std::string(kind) + " are: ";
    const std::size_t listed = std::min(candidates.size(), most_listed);
    for (std::size_t c = 0; c < listed; ++c)
        out += (c > 0 ? ", " : "") + candidates[c];
    if (listed < candidates.size()) out += " and " + std::to_string(candidates.size() - listed) + " more";
    return out;
}

}  // namespace sandfreeze::io
