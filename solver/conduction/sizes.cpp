#include "solver/conduction/sizes.hpp"

namespace sandfreeze::conduction
{

std::vector<mesh::BodySizes> cell_sizes(const solver::Case&, const mesh::Painting&, const Bodies& bodies,
                                        double fineness)
{
    const double mm = 1e-3 / fineness;
    std::vector<mesh::BodySizes> sizes;
    for (const Body& body : bodies.list) {
        if (body.poured)
            sizes.push_back({{1 * mm, 0.1, 2 * mm}, {0.5 * mm, 0.1, 2 * mm}, true});
        else if (body.quick)
            sizes.push_back({{1 * mm, 0.3, 2 * mm}, {1 * mm, 0.3, 2 * mm}, true});
        else
            sizes.push_back({{0.5 * mm, 0.2, 16 * mm}, {}, false});
    }
    return sizes;
}

}  // namespace sandfreeze::conduction
