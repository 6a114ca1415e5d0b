// The loops themselves. Included once by each kernels_<width>.cpp, which is compiled for that width alone:
// nothing here may be a function with external linkage, or the linker could pick a version the processor
// cannot run.

#include "solver/conduction/kernels.hpp"

namespace sandfreeze::conduction
{
namespace
{

// Bytes of the processor's own vectors: a slice is worked on in as many pieces as its 16 rows fill.
#if defined(__AVX512F__)
enum : int { vector_bytes = 64 };
#elif defined(__AVX__)
enum : int { vector_bytes = 32 };
#else
enum : int { vector_bytes = 16 };
#endif

template <class Real>
struct Vector {
    static constexpr int width = vector_bytes / static_cast<int>(sizeof(Real));
    typedef Real Value __attribute__((vector_size(vector_bytes)));
    typedef std::int32_t Index __attribute__((vector_size(width * static_cast<int>(sizeof(std::int32_t)))));
};

template <class Real>
using Value = typename Vector<Real>::Value;

/// Calls f(first row) for each piece of a slice.
template <class Real, class F>
[[gnu::always_inline]] inline void for_each_piece(std::int32_t slice, const F& f)
{
    for (std::int32_t piece = 0; piece < lanes; piece += Vector<Real>::width)
        f(slice * lanes + piece);
}

template <class Real>
[[gnu::always_inline]] inline Value<Real> load(const Real* p)
{
    Value<Real> v{};
    __builtin_memcpy(&v, p, sizeof v);
    return v;
}

template <class Real>
[[gnu::always_inline]] inline void store(Real* p, Value<Real> v)
{
    __builtin_memcpy(p, &v, sizeof v);
}

template <class Real>
[[gnu::always_inline]] inline Value<Real> all(Real x)
{
    return x - Value<Real>{};
}

template <class Real>
[[gnu::always_inline]] inline Value<Real> gather(const Real* p, const std::int32_t* index)
{
    Value<Real> v{};
    for (int l = 0; l < Vector<Real>::width; ++l)
        v[l] = p[index[l]];
    return v;
}

/// Whether a comparison holds for no lane.
template <class Mask>
[[gnu::always_inline]] inline bool none(Mask mask)
{
    std::int64_t words[sizeof(Mask) / sizeof(std::int64_t)];
    __builtin_memcpy(words, &mask, sizeof mask);
    std::int64_t any = 0;
    for (const std::int64_t word : words)
        any |= word;
    return any == 0;
}

/// Temperatures of a piece of cells of one material.
template <class Real>
[[gnu::always_inline]] inline Value<Real> temperatures(const TableView<Real>& t, Value<Real> enthalpy)
{
    const Value<Real> below = all(t.first_temperature) + all(t.slope_below) * (enthalpy - all(t.first));
    if (t.bins == 0) return below;
    const auto not_below = enthalpy >= all(t.first);
    if (none(not_below)) return below;  // solid long ago: most cells, most of the time
    Value<Real> x = (enthalpy - all(t.first)) * all(t.inverse_width);
    x = x > all(Real(0)) ? x : all(Real(0));
    const Value<Real> top = all(static_cast<Real>(t.bins - 1));
    const auto bin = __builtin_convertvector(x < top ? x : top, typename Vector<Real>::Index);
    Value<Real> start{};
    Value<Real> rise{};
    for (int l = 0; l < Vector<Real>::width; ++l) {
        start[l] = t.knots[2 * bin[l]];
        rise[l] = t.knots[2 * bin[l] + 1];
    }
    const Value<Real> within = start + rise * (x - __builtin_convertvector(bin, Value<Real>));
    const Value<Real> above = all(t.last_temperature) + all(t.slope_above) * (enthalpy - all(t.last));
    return not_below ? (enthalpy >= all(t.last) ? above : within) : below;
}

/// Heat flow into a piece of rows whose own temperatures are `here` [W]. `row` counts from the first slice's
/// row 0.
template <class Real>
[[gnu::always_inline]] inline Value<Real> inflow(const SliceView<Real>& s, std::int32_t row,
                                                 const Real* temperature, Value<Real> here)
{
    const std::int32_t slice = row / lanes;
    const std::int32_t piece = row % lanes;
    const std::int32_t end = s.start[slice + 1];
    std::int32_t slot = s.start[slice];
    const std::int32_t runs_end = slot + s.runs[slice];
    Value<Real> sum = all(Real(0));
    for (; slot < runs_end; ++slot) {
        const std::int32_t at = slot * lanes + piece;
        sum += load(s.conductance + at) * (load(temperature + s.run_start[slot] + piece) - here);
    }
    for (; slot < end; ++slot) {
        const std::int32_t at = slot * lanes + piece;
        sum += load(s.conductance + at) * (gather(temperature, s.neighbour + at) - here);
    }
    return sum;
}

/// Rates of a piece of cells at given temperatures [W/m3].
template <class Real>
[[gnu::always_inline]] inline Value<Real> rates(const GroupView<Real>& g, std::int32_t row,
                                                const Real* temperature)
{
    const std::int32_t cell = g.first_cell + row;
    const Value<Real> here = load(temperature + cell);
    Value<Real> f = inflow(g.slices, row, temperature, here) * load(g.inverse_volume + cell);
    if (g.slice_has_edge[cell / lanes])
        f += load(g.edge_heat + cell) - load(g.edge_conductance + cell) * here;
    return f;
}

template <class Real>
inline const TableView<Real>& table_of(const GroupView<Real>& g, std::int32_t cell)
{
    return g.tables[g.table_of_slice[cell / lanes]];
}

template <class Real>
void map_temperatures(const GroupView<Real>& g, SliceRange range, const Real* enthalpy, Real* temperature)
{
    for (std::int32_t s = range.begin; s < range.end; ++s)
        for_each_piece<Real>(s, [&](std::int32_t row) {
            const std::int32_t cell = g.first_cell + row;
            store(temperature + cell, temperatures(table_of(g, cell), load(enthalpy + cell)));
        });
}

template <class Real>
void first_stage(const GroupView<Real>& g, SliceRange range, const StageState<Real>& y, StageFactors<Real> w)
{
    for (std::int32_t s = range.begin; s < range.end; ++s)
        for_each_piece<Real>(s, [&](std::int32_t row) {
            const std::int32_t cell = g.first_cell + row;
            Value<Real> f = load(y.start_rate + cell);
            if (y.source != nullptr) f += load(y.source + cell);
            const Value<Real> d = all(w.mt) * f;
            store(y.increment + cell, d);
            store(y.next_temperature + cell, temperatures(table_of(g, cell), load(y.start + cell) + d));
        });
}

template <class Real>
void stage(const GroupView<Real>& g, SliceRange range, const StageState<Real>& y, StageFactors<Real> w)
{
    for (std::int32_t s = range.begin; s < range.end; ++s)
        for_each_piece<Real>(s, [&](std::int32_t row) {
            const std::int32_t cell = g.first_cell + row;
            Value<Real> d = all(w.mu) * load(y.previous + cell) + all(w.nu) * load(y.before_previous + cell) +
                            all(w.gt) * load(y.start_rate + cell) + all(w.mt) * rates(g, row, y.temperature);
            if (y.source != nullptr) d += all(w.gt + w.mt) * load(y.source + cell);
            store(y.increment + cell, d);
            store(y.next_temperature + cell, temperatures(table_of(g, cell), load(y.start + cell) + d));
        });
}

template <class Real>
void end_rates(const GroupView<Real>& g, SliceRange range, const StageState<Real>& y, ErrorFactors<Real> e,
               Real* rate, double* error_of_slice)
{
    for (std::int32_t s = range.begin; s < range.end; ++s) {
        Value<Real> squares = all(Real(0));
        for_each_piece<Real>(s, [&](std::int32_t row) {
            const std::int32_t cell = g.first_cell + row;
            const Value<Real> f = rates(g, row, y.temperature);
            store(rate + cell, f);
            Value<Real> both = f + load(y.start_rate + cell);
            if (y.source != nullptr) both += all(Real(2)) * load(y.source + cell);
            const Value<Real> d =
                (all(Real(-0.8)) * load(y.previous + cell) + all(Real(0.4) * e.step) * both) * all(e.scale);
            squares += d * d * load(g.volume + cell);
        });
        double sum = 0;
        for (int l = 0; l < Vector<Real>::width; ++l)
            sum += static_cast<double>(squares[l]);
        error_of_slice[s] = sum;
    }
}

/// Lets a piece of quick cells follow their trend, and answer the heat beyond it.
template <class Real>
[[gnu::always_inline]] inline void lead(const InterfaceView<Real>& v, std::int32_t at,
                                        const InterfaceState<Real>& q, Value<Real> heat)
{
    const std::int32_t* cell = v.row + at;
    const Value<Real> beyond = heat - all(q.elapsed) * load(v.start_heat + at);
    const Value<Real> t = gather(v.start_temperature, cell) + all(q.elapsed) * gather(v.trend, cell) +
                          beyond * load(v.response + at);
    for (int l = 0; l < Vector<Real>::width; ++l)
        q.next_temperature[cell[l]] = t[l];
}

template <class Real>
void interface_first(const InterfaceView<Real>& v, SliceRange range, const InterfaceState<Real>& q,
                     StageFactors<Real> w)
{
    for (std::int32_t s = range.begin; s < range.end; ++s)
        for_each_piece<Real>(s, [&](std::int32_t at) {
            const Value<Real> heat = all(w.mt) * load(v.start_heat + at);
            store(q.heat + at, heat);
            lead(v, at, q, heat);
        });
}

template <class Real>
void interface_stage(const InterfaceView<Real>& v, SliceRange range, const InterfaceState<Real>& q,
                     StageFactors<Real> w)
{
    for (std::int32_t s = range.begin; s < range.end; ++s)
        for_each_piece<Real>(s, [&](std::int32_t at) {
            const Value<Real> flow = inflow(v.slices, at, q.temperature, gather(q.temperature, v.row + at));
            const Value<Real> heat = all(w.mu) * load(q.previous + at) +
                                     all(w.nu) * load(q.before_previous + at) +
                                     all(w.gt) * load(v.start_heat + at) + all(w.mt) * flow;
            store(q.heat + at, heat);
            lead(v, at, q, heat);
        });
}

template <class Real>
void interface_heat(const InterfaceView<Real>& v, SliceRange range, const Real* temperature, Real* heat)
{
    for (std::int32_t s = range.begin; s < range.end; ++s)
        for_each_piece<Real>(s, [&](std::int32_t at) {
            store(heat + at, inflow(v.slices, at, temperature, gather(temperature, v.row + at)));
        });
}

template <class Real>
constexpr Kernels<Real> kernels_named(const char* name)
{
    return {name,
            &map_temperatures<Real>,
            &first_stage<Real>,
            &stage<Real>,
            &end_rates<Real>,
            &interface_first<Real>,
            &interface_stage<Real>,
            &interface_heat<Real>};
}

}  // namespace
}  // namespace sandfreeze::conduction
