#include "mesh/face_sums.hpp"

#include <numeric>
#include <utility>

namespace sandfreeze::mesh
{

FaceSums::FaceSums(const std::vector<std::size_t>& most_neighbours)
    : start_(most_neighbours.size() + 1, 0)
    , used_(most_neighbours.size(), 0)
{
    std::partial_sum(most_neighbours.begin(), most_neighbours.end(), start_.begin() + 1);
    sums_.resize(start_.back());
}

void FaceSums::add(std::int32_t a, std::int32_t b, FacePiece piece)
{
    if (a > b) {
        std::swap(a, b);
        std::swap(piece.distance_a, piece.distance_b);
    }
    Sum& s = find(a, b);
    s.area += piece.area;
    s.contact_area += piece.contact_area;
    s.moment_a += piece.area * piece.distance_a;
    s.moment_b += piece.area * piece.distance_b;
}

std::vector<Face> FaceSums::faces() const
{
    std::size_t count = 0;
    for (const std::uint32_t used : used_)
        count += used;
    std::vector<Face> out;
    out.reserve(count);
    for (std::size_t a = 0; a < used_.size(); ++a)
        for (std::size_t k = start_[a]; k < start_[a] + used_[a]; ++k) {
            const Sum& s = sums_[k];
            out.push_back({static_cast<std::int32_t>(a), s.other, s.area, s.contact_area, s.moment_a / s.area,
                           s.moment_b / s.area});
        }
    return out;
}

FaceSums::Sum& FaceSums::find(std::int32_t a, std::int32_t b)
{
    const auto row = static_cast<std::size_t>(a);
    for (std::size_t k = start_[row]; k < start_[row] + used_[row]; ++k)
        if (sums_[k].other == b) return sums_[k];
    Sum& fresh = sums_[start_[row] + used_[row]++];
    fresh.other = b;
    return fresh;
}

}  // namespace sandfreeze::mesh
