#include "oracle.hpp"

#include <algorithm>
#include <limits>

namespace sandfreeze::feeding::testing
{

namespace
{

constexpr float infinity = std::numeric_limits<float>::infinity();

/// Which voxels hang together with `start` among those of `part` that are open at a time.
std::vector<char> open_piece(const Metal& metal, std::size_t part, MetalId start, float time)
{
    std::vector<char> piece(metal.size(), 0);
    std::vector<MetalId> todo{start};
    piece[start] = 1;
    while (!todo.empty()) {
        const MetalId id = todo.back();
        todo.pop_back();
        for (const MetalId next : metal.neighbours(id)) {
            if (next == nobody || piece[next] != 0 || metal.part[next] != part || metal.closes[next] < time)
                continue;
            piece[next] = 1;
            todo.push_back(next);
        }
    }
    return piece;
}

bool joins_sides(const Evidence& evidence, std::size_t part, const std::vector<char>& piece)
{
    bool casting = false;
    bool other = false;
    for (MetalId id = 0; id < static_cast<MetalId>(piece.size()); ++id) {
        if (piece[id] == 0) continue;
        for (const MetalId next : evidence.metal.neighbours(id)) {
            if (next == nobody || evidence.metal.part[next] == part) continue;
            (evidence.is_casting(next) ? casting : other) = true;
        }
    }
    return casting && other;
}

}  // namespace

std::vector<float> widest_from(const Metal& metal, MetalId start, const std::vector<char>& usable)
{
    const auto n = static_cast<MetalId>(metal.size());
    std::vector<float> best(metal.size(), -infinity);
    std::vector<char> done(metal.size(), 0);
    if (usable[start] != 0) best[start] = metal.closes[start];
    for (MetalId round = 0; round < n; ++round) {
        MetalId widest = nobody;
        for (MetalId id = 0; id < n; ++id)
            if (done[id] == 0 && best[id] >= 0 && (widest == nobody || best[id] > best[widest])) widest = id;
        if (widest == nobody) break;
        done[widest] = 1;
        for (const MetalId next : metal.neighbours(widest))
            if (next != nobody && usable[next] != 0)
                best[next] = std::max(best[next], std::min(best[widest], metal.closes[next]));
    }
    return best;
}

std::vector<float> widest_from_any(const Metal& metal, const std::vector<MetalId>& starts,
                                   const std::vector<char>& usable)
{
    std::vector<float> best(metal.size(), -infinity);
    for (const MetalId start : starts) {
        const std::vector<float> from = widest_from(metal, start, usable);
        for (std::size_t id = 0; id < best.size(); ++id)
            best[id] = std::max(best[id], from[id]);
    }
    return best;
}

std::optional<float> gate_closing(const Evidence& evidence, std::size_t part)
{
    const Metal& metal = evidence.metal;
    std::optional<float> last;
    for (const MetalId moment : metal.falling_of(part)) {
        const float time = metal.closes[moment];
        if (last && *last >= time) continue;
        for (const MetalId start : metal.falling_of(part))
            if (metal.closes[start] >= time &&
                joins_sides(evidence, part, open_piece(metal, part, start, time)))
                last = time;
    }
    return last;
}

double prominence(const Metal& metal, MetalId id)
{
    const std::vector<float> ways = widest_from(metal, id, std::vector<char>(metal.size(), 1));
    float saddle = -infinity;
    for (MetalId other = 0; other < static_cast<MetalId>(metal.size()); ++other)
        if (metal.closes_after(other, id)) saddle = std::max(saddle, ways[other]);
    if (saddle < 0) return std::numeric_limits<double>::infinity();
    return static_cast<double>(metal.closes[id]) - saddle;
}

}  // namespace sandfreeze::feeding::testing
