#pragma once
// Where metal is open to the air, and what it loses there.

#include <optional>
#include <span>
#include <vector>

#include "mesh/cells.hpp"
#include "solver/case.hpp"
#include "solver/conduction/bodies.hpp"
#include "solver/conduction/network.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Whether a part is a hole of air that lies open: the one over an open feeder, or a drawn one that reaches
/// the top of the box.
bool is_open_hole(const solver::Case& c, std::size_t part);

/// The outlet to the open through a hole, of a metal cell at it; `hole` is a part that is_open_hole.
Outlet outlet_into_hole(const solver::Case& c, std::size_t hole, int metal);

/// Makes an outlet at the top of the box one of open metal, where a part with an open top ends there.
void open_at_top(const solver::Case& c, int metal, const mesh::Centroid& at, const solver::Edge& edge,
                 Outlet& outlet);

/// What one open top lost.
struct OpenTopRecord {
    std::size_t part = 0;   ///< the metal part, or the drawn hole
    double area = 0;        ///< [m2]
    double emissivity = 0;  ///< in use
    double radiated = 0;    ///< [J]
    double convected = 0;   ///< [J]
};

/// Adds up, step by step, what open tops lose by radiation and to the air. The balance counts both together,
/// stage by stage; this tells them apart, by the mean of each step's ends.
class OpenTopLosses
{
public:
    /// Every part with an open top, and every open hole that was drawn.
    explicit OpenTopLosses(const solver::Case& c);

    bool any() const { return !records_.empty(); }
    /// To be called at the start and with each new network; temperatures in placed order [°C].
    template <class Real>
    void start(const Network& network, const std::vector<PropertyTable>& tables,
               std::span<const double> enthalpy, std::span<const Real> temperature);
    template <class Real>
    void after_step(const Network& network, const std::vector<PropertyTable>& tables,
                    std::span<const double> enthalpy, std::span<const Real> temperature, double step);

    const std::vector<OpenTopRecord>& records() const { return records_; }

    /// After start().
    void carry(solver::Archive& archive);

private:
    struct Flow {
        double radiated = 0;   ///< [W]
        double convected = 0;  ///< [W]
    };
    template <class Real>
    std::vector<Flow> flows(const Network& network, const std::vector<PropertyTable>& tables,
                            std::span<const double> enthalpy, std::span<const Real> temperature);

    std::vector<OpenTopRecord> records_;
    std::vector<int> record_of_part_;  ///< −1 where there is none
    std::vector<Flow> last_;
};

}  // namespace sandfreeze::conduction
