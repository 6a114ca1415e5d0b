#pragma once
// One step of the implicit peer: BDF2 on the enthalpy equation, E1, Newton, conjugate gradients from Eigen.

#include <Eigen/IterativeLinearSolvers>
#include <Eigen/SparseCore>

#include <vector>

#include "tools/bench/section.hpp"

namespace sandfreeze::bench
{

using Vector = Eigen::VectorXd;
using Matrix = Eigen::SparseMatrix<double>;

/// The same equations as the program's on plain voxels, E3: volumes, conductances, T(H). Grid order.
struct Equations {
    explicit Equations(const Section& section);

    /// Heat into each voxel at given temperatures [W].
    Vector heat(const Vector& temperature) const { return from_outside - conductance * temperature; }

    std::vector<const conduction::PropertyTable*> table;  ///< of each voxel
    std::vector<bool> poured;
    Vector volume;        ///< [m3]
    Matrix conductance;   ///< with the outlets' on the diagonal [W/K]
    Vector from_outside;  ///< conductances of the outlets times the temperatures outside [W]
    double metal_volume = 0;
    double heat_scale = 1;  ///< the heat of freezing [J/m3]
};

/// T(H) and dH/dT from the table that the program's own loops read.
struct Reading {
    double temperature = 0;  ///< [°C]
    double capacity = 0;     ///< [J/m3/K]
};
Reading read_table(const conduction::PropertyTable& table, double enthalpy);

/// Counts of work, for the table.
struct Effort {
    std::size_t steps = 0;
    std::size_t newton = 0;
    std::size_t gradients = 0;  ///< iterations of the linear solver
};

/// State at the end of an accepted step and one step earlier.
struct ImplicitState {
    double time = 0;
    double last_step = 0;  ///< 0 before the first
    Vector enthalpy;       ///< [J/m3]
    Vector earlier;
    Vector rate;  ///< [W/m3]
    Vector earlier_rate;
};

class ImplicitStep
{
public:
    /// `tolerance`: of the error of a step, root mean square over the metal, over the heat of freezing.
    ImplicitStep(const Equations& equations, double tolerance);

    struct Trial {
        bool converged = false;
        int iterations = 0;
        double error = 0;  ///< estimate over the tolerance
    };

    /// Tries a step from a state.
    Trial attempt(const ImplicitState& from, double step);
    /// Makes the tried step the state. What Newton's method left over goes into the enthalpy: what
    /// leaves one voxel enters its neighbour.
    void accept(ImplicitState& state) const;

    Effort effort;

private:
    struct Formula {
        double now = 1;  ///< weights of the enthalpies: now, one and two steps before
        double before = -1;
        double earlier = 0;
        double predict_rate = 0;  ///< [s]
        double predict_earlier_rate = 0;
        double error_share = 0.5;  ///< of the corrector in what it differs from the predictor
    };
    static Formula formula(double step, double last_step);

    void read_all();
    bool solve_linear();
    void update();
    double metal_rms(const Vector& by_volume) const;

    const Equations& equations_;
    double tolerance_;
    Formula formula_;
    double step_ = 0;
    Vector enthalpy_, temperature_, capacity_, residual_, correction_;
    Matrix matrix_;
    std::vector<Eigen::Index> diagonal_;  ///< where the diagonal is stored
    Eigen::ConjugateGradient<Matrix, Eigen::Lower | Eigen::Upper,
                             Eigen::IncompleteCholesky<double, Eigen::Lower, Eigen::NaturalOrdering<int>>>
        solver_;
    bool factored_ = false;
    int with_these_factors_ = 0;  ///< iterations of the linear solver
};

}  // namespace sandfreeze::bench
