#pragma once
// When and where cells have become needlessly small.

#include <optional>
#include <span>
#include <vector>

#include "mesh/coarsen.hpp"
#include "solver/conduction/bodies.hpp"
#include "solver/conduction/frames.hpp"
#include "solver/conduction/generation.hpp"
#include "solver/conduction/property_table.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Decides which cells may be joined while a solve goes on.
///
/// Sand needs small cells at its faces only while the heated skin is thin, and the skin grows with the root
/// of time. Metal needs them until the front has passed: frozen metal among frozen metal has only its heat
/// left to give. Metal that has yet to freeze keeps the cells it has, so that its times are those of fine
/// cells.
class Regrouping
{
public:
    /// `picture` must outlive it. `fineness` above 1 keeps cells small for longer.
    Regrouping(const Bodies& bodies, const std::vector<PropertyTable>& tables, const CellPicture& picture,
               double fineness);

    /// Lets cells become so many times larger, from the next look on, which is due at once.
    void loosen(double factor)
    {
        fineness_ /= factor;
        next_ = 0;
    }
    bool due(double time) const { return time >= next_; }
    /// The cells to go on with after `time` [s], unless that saves too little work.
    /// `enthalpy` is that of the first cells [J/m3].
    std::optional<mesh::Coarsened> join(double time, const Generation& now, std::span<const double> enthalpy);
    /// The cells that were joined last, again; empty where none were.
    std::optional<mesh::Coarsened> joined_last() const;

    void carry(solver::Archive& archive);

private:
    /// How large cells may become, before fineness. Plans start from larger ones.
    struct Limits {
        double skin_share = 0;  ///< of the heated skin, (diffusivity × time)^½, that a cell may span
        double quick = 0;       ///< larger cells beside those of the front would lead heat astray [m]
        double slow = 0;        ///< at faces [m]
        double next_look = 0;   ///< times the time of the last
    };

    std::vector<std::uint8_t> allowed(double time, std::span<const double> enthalpy) const;
    double work(const mesh::CellMesh& cells, const std::vector<bool>& frozen) const;
    std::vector<std::uint8_t> depth_in_frozen(std::span<const double> enthalpy) const;
    bool is_frozen(std::size_t first, std::span<const double> enthalpy) const
    {
        return picture_.poured[first] && enthalpy[first] < frozen_below_[picture_.cells.body[first]];
    }

    const CellPicture& picture_;
    Limits limits_;
    mesh::Coarsener coarsener_;
    std::vector<double> diffusivity_;   ///< of each body, when it starts [m2/s]
    std::vector<double> frozen_below_;  ///< enthalpy under which metal of each body is safely solid [J/m3]
    std::vector<bool> poured_;          ///< of each body
    std::vector<bool> quick_;           ///< of each body
    double fineness_;
    double next_ = 0;                      ///< [s]
    std::vector<std::uint8_t> joined_to_;  ///< levels that the last join allowed; empty before the first
};

}  // namespace sandfreeze::conduction
