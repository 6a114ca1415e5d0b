#pragma once
// What an answer says about feeding: pools, where the metal went, and the seven questions. Units and empty
// values as in results.hpp; volumes are those of the real mould (depth and `multiply` included).

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "mesh/shape.hpp"
#include "solver/case.hpp"

namespace sandfreeze::solver
{

enum class Verdict;

/// Liquid that hangs together, from the pour or from the split of a larger pool to its own split or closing.
struct PoolReport {
    std::optional<std::size_t> parent;  ///< place in the list; what it parted from
    double begins = 0;
    double ends = 0;
    bool splits = false;                 ///< into smaller pools; else it closes as a whole
    mesh::Place last_at;                 ///< what closes last in it
    double volume = 0;                   ///< at its beginning [m3]
    std::vector<std::string> parts;      ///< that it reaches into then, largest share first
    std::vector<std::string> fed_by;     ///< what can feed it then
    std::optional<double> lost_feeder;   ///< when; empty: never, or it never had one (fed_by tells)
    std::optional<mesh::Place> neck_at;  ///< where its way to a feeder closed
    std::string neck_part;
    double to_shrink =
        0;                ///< room that gets empty when it freezes from then on, else from its beginning [m3]
    std::string because;  ///< all of this in a caster's words
};

/// What a feeder, an open basin or an open sprue gave.
struct DrawDown {
    std::string name;
    double volume = 0;                ///< of its metal as poured [m3]
    double given = 0;                 ///< room that got empty in it [m3]
    double efficiency_percent = 0;    ///< given, of its volume
    std::optional<double> ends;       ///< when metal was last taken from it; empty: never
    std::optional<double> mostly_by;  ///< when nine tenths of that were taken
    /// Room that had got empty in it [m3] by a time [s], from the pour on.
    std::vector<std::pair<double, double>> course;
    bool open = false;                 ///< the air presses on it
    double top = 0;                    ///< height of its metal as poured [m]: y, z in plans
    double lowest = 0;                 ///< deepest point of its surface at the end [m]
    std::vector<mesh::Place> surface;  ///< at the end, from left to right through the deepest point
    /// If everything shrank so many times as much, it would still hold enough; 0 where it runs dry as it is
    /// and with the least that was tried. Empty where nothing draws on it.
    std::optional<double> reserve;
    std::string because;
};

/// A hole in the casting.
struct Cavity {
    mesh::Place at;  ///< its emptiest place
    std::string part;
    double volume = 0;                 ///< [m3]
    bool open = false;                 ///< a draw-down that reaches into the casting; else closed in
    std::optional<std::string> below;  ///< open: what it was drawn down from
    std::string because;
};

/// Where the metal went while it shrank, E9.
struct Shrinkage {
    double poured = 0;                 ///< when the mould was full [m3]
    double shrinks = 0;                ///< room that gets empty by the time all is solid [m3]
    double drawn = 0;                  ///< of it in draw-downs, open to the air [m3]
    double hollow = 0;                 ///< in closed cavities [m3]
    double pores = 0;                  ///< too small to draw [m3]
    double surplus = 0;                ///< pushed out where graphite expands in a full mould [m3]
    double relative_error = 0;         ///< metal at the end and pushed out against metal poured
    double yield_percent = 0;          ///< casting, of all metal poured
    double casting_pores_percent = 0;  ///< of the casting's volume
    std::optional<mesh::Place> most_pores_at;
    double most_pores_percent = 0;  ///< there
    std::vector<PoolReport> pools;
    std::vector<DrawDown> draw_downs;
    std::vector<Cavity> cavities;  ///< largest first
};

/// What has to be asked of feeding (J. Campbell, Castings; from memory), in this order.
enum class Question { needed, heat, volume, junction, path, gradient, pressure };
std::string_view to_string(Question question);

/// One of the questions about one feeder, or about all metal.
struct FeedingRule {
    Question question = Question::needed;
    std::string of;  ///< a feeder's name; empty: all of the casting
    std::optional<mesh::Place> at;
    std::optional<double> number;  ///< in `unit`
    std::string_view unit;
    std::optional<double> limit;  ///< likewise
    Verdict verdict{};
    std::string because;
    std::string handbook;  ///< what the usual rule of thumb says beside it; empty: there is none
};

}  // namespace sandfreeze::solver
