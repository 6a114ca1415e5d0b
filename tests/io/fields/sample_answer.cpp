#include "sample_answer.hpp"

#include <sys/resource.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <sstream>
#include <stdexcept>

namespace sandfreeze::io_test
{
namespace
{

using solver::Role;

constexpr float nowhere = std::numeric_limits<float>::quiet_NaN();
constexpr float never = std::numeric_limits<float>::infinity();

std::vector<materials::Material> three_materials()
{
    std::vector<materials::Material> all(3);
    all[0].name = "green sand";
    all[1].name = "AlSi10Mg";
    all[1].kind = materials::Kind::metal;
    all[2].name = "grey iron";
    all[2].kind = materials::Kind::chill;
    return all;
}

solver::Part part_of(std::string name, Role role, int material)
{
    solver::Part part;
    part.name = std::move(name);
    part.role = role;
    part.material = material;
    return part;
}

/// Of a voxel, as numbers to compute with.
std::array<float, 3> column_row_level(const mesh::Grid& grid, std::size_t voxel)
{
    const auto columns = static_cast<std::size_t>(grid.nx);
    const auto rows = static_cast<std::size_t>(grid.ny);
    return {static_cast<float>(voxel % columns), static_cast<float>(voxel / columns % rows),
            static_cast<float>(voxel / columns / rows)};
}

class FormulaFrames : public solver::FrameSource
{
public:
    FormulaFrames(mesh::Grid grid, std::vector<bool> metal)
        : grid_(std::move(grid))
        , metal_(std::move(metal))
    {
    }
    std::size_t count() const override { return 3; }
    double time(std::size_t frame) const override { return std::array{0.0, 1.25, 7.1}.at(frame); }
    void fill(std::size_t frame, std::span<float> temperature, std::span<float> solid_fraction) const override
    {
        const auto f = static_cast<float>(frame);
        for (std::size_t v = 0; v < grid_.size(); ++v) {
            const auto [i, j, k] = column_row_level(grid_, v);
            temperature[v] = 600 + 100 * k + 10 * i + j + 0.25F * f;
            solid_fraction[v] = metal_[v] ? (f + i / 16) / 4 : nowhere;
        }
    }

private:
    mesh::Grid grid_;
    std::vector<bool> metal_;
};

/// A hot disk that cools from outside; smooth like a true answer, with the last bits of a computed one.
class DiskFrames : public solver::FrameSource
{
public:
    DiskFrames(mesh::Grid grid, std::size_t frames)
        : grid_(std::move(grid))
        , frames_(frames)
    {
    }
    std::size_t count() const override { return frames_; }
    double time(std::size_t frame) const override { return 0.37 * static_cast<double>(frame); }
    void fill(std::size_t frame, std::span<float> temperature, std::span<float> solid_fraction) const override
    {
        const double age = (1.0 + static_cast<double>(frame)) / static_cast<double>(frames_);
        const double radius = 0.3 * grid_.ny;
        for (int j = 0; j < grid_.ny; ++j) {
            for (int i = 0; i < grid_.nx; ++i) {
                const std::size_t v = grid_.index(i, j);
                const double r = std::hypot(i - grid_.nx / 2.0, j - grid_.ny / 2.0) / radius;
                const double front = 1 - age;
                temperature[v] =
                    static_cast<float>(r < 1 ? 570 + 30 * std::tanh(4 * (front - r)) + 3 * std::sin(5 * r)
                                             : 20 + 550 * std::exp(-(r - 1) / (0.1 + 0.4 * age)));
                solid_fraction[v] =
                    r < 1 ? static_cast<float>(std::clamp(3 * (r - front), 0.0, 1.0)) : nowhere;
            }
        }
    }

private:
    mesh::Grid grid_;
    std::size_t frames_;
};

/// How far a voxel lies from the middle of the box: 1 on the surface of a lens 0.7 of the box wide and high.
double out_of_lens(const mesh::Grid& grid, std::size_t voxel)
{
    const mesh::Place at = grid.place(voxel);
    const mesh::Box box = grid.box();
    const double height = grid.z_face(grid.nz()) - grid.z0;
    return std::hypot((at.x - 0.5 * (box.x0 + box.x1)) / (0.35 * (box.x1 - box.x0)),
                      (at.y - 0.5 * (box.y0 + box.y1)) / (0.35 * (box.y1 - box.y0)),
                      (at.z - grid.z0 - 0.5 * height) / (0.35 * height));
}

/// A hot lens that cools from outside.
class LensFrames : public solver::FrameSource
{
public:
    LensFrames(std::vector<float> out, std::size_t frames)
        : out_(std::move(out))
        , frames_(frames)
    {
    }
    std::size_t count() const override { return frames_; }
    double time(std::size_t frame) const override { return 2.5 * static_cast<double>(frame); }
    void fill(std::size_t frame, std::span<float> temperature, std::span<float> solid_fraction) const override
    {
        const float front = 1 - (1.0F + static_cast<float>(frame)) / static_cast<float>(frames_);
        for (std::size_t v = 0; v < out_.size(); ++v) {
            const float r = out_[v];
            temperature[v] = r < 1 ? 570 + 30 * std::tanh(4 * (front - r)) : 20 + 550 * std::exp(3 * (1 - r));
            solid_fraction[v] = r < 1 ? std::clamp(3 * (r - front), 0.0F, 1.0F) : nowhere;
        }
    }

private:
    std::vector<float> out_;
    std::size_t frames_;
};

std::vector<bool> metal_voxels(const solver::Case& c, const mesh::Painting& painting)
{
    std::vector<bool> metal;
    for (const mesh::PartId part : painting.part_of_voxel) {
        metal.push_back(solver::is_poured(c.parts[part].role));
    }
    return metal;
}

void count_voxels(mesh::Painting& painting, std::size_t parts)
{
    painting.measures.assign(parts, {});
    for (const mesh::PartId part : painting.part_of_voxel) {
        ++painting.measures[part].voxels;
    }
}

void fill_fields(solver::VoxelFields& fields, const mesh::Grid& grid, const std::vector<bool>& metal)
{
    fields.freezes.assign(grid.size(), nowhere);
    fields.gradient = fields.cooling_rate = fields.freezes;
    fields.criterion = fields.pressure_loss = fields.arm_spacing = fields.freezes;
    fields.hollow = fields.pores = fields.freezes;
    for (std::size_t v = 0; v < grid.size(); ++v) {
        if (metal[v]) {
            const auto [i, j, k] = column_row_level(grid, v);
            fields.freezes[v] = 100 * k + 10 * i + j;
            fields.cooling_rate[v] = 1 + i;
            fields.gradient[v] = 1000 * (1 + j);
            fields.criterion[v] = 500 * (1 + i);
            fields.pressure_loss[v] = 100 * (1 + j);
            fields.arm_spacing[v] = 1e-5F * (1 + i);
            fields.hollow[v] = i / 1024;
            fields.pores[v] = j / 1024;
        }
    }
    fields.closes = fields.cut_off = fields.unfed = fields.below_liquidus = fields.freezes;
    for (std::size_t v = 0; v < grid.size(); ++v) {
        fields.closes[v] /= 2;
        fields.cut_off[v] /= 4;
        fields.unfed[v] /= 8;
        fields.below_liquidus[v] /= 16;
    }
    fields.freezes[grid.index(3, 2)] = never;
}

void add_probes(Sample& sample)
{
    solver::ProbeReport mid;
    mid.name = "mid \"plate\", 20 °C/s";
    mid.at = {0.001, 0.037};
    mid.part = "plate";
    mid.curve = {{0, 0.5, 2}, {700, 650.125, 600}, {0, 0.25, 1}};
    solver::ProbeReport sand;
    sand.name = "sand";
    sand.at = {-0.009, 0.031};
    sand.part = "mould";
    sand.curve = {{0, 2, 4}, {20, 21.5, 23}, {nowhere, nowhere, nowhere}};
    sample.answer.probes = {mid, sand};
    sample.c.probes = {{mid.name, mid.at}, {sand.name, sand.at}};
}

}  // namespace

Sample small_sample()
{
    Sample sample;
    sample.c.title = "Prüfstück <1> & \"two\"";
    sample.c.materials = three_materials();
    sample.c.parts = {part_of("mould", Role::sand, 0), part_of("plate", Role::casting, 1),
                      part_of("chill & co", Role::chill, 2), part_of("feeder", Role::feeder, 1)};
    mesh::Grid grid;
    grid.nx = 12;
    grid.ny = 7;
    grid.cell = 0.002;
    grid.x0 = -0.010;
    grid.y0 = 0.030;
    sample.c.section.cell = grid.cell;
    sample.c.section.box = grid.box();
    mesh::Painting& painting = sample.answer.painting;
    painting.grid = grid;
    painting.part_of_voxel.assign(grid.size(), 0);
    const auto lay = [&](int i0, int i1, int j0, int j1, mesh::PartId part) {
        for (int j = j0; j <= j1; ++j) {
            for (int i = i0; i <= i1; ++i) {
                painting.part_of_voxel[grid.index(i, j)] = part;
            }
        }
    };
    lay(2, 9, 2, 4, 1);
    lay(4, 6, 1, 1, 2);
    lay(8, 9, 5, 6, 3);
    count_voxels(painting, sample.c.parts.size());
    const std::vector<bool> metal = metal_voxels(sample.c, painting);
    fill_fields(sample.answer.fields, grid, metal);
    sample.answer.frames = std::make_shared<FormulaFrames>(grid, metal);
    add_probes(sample);
    return sample;
}

Sample small_plan()
{
    Sample sample = small_sample();
    sample.c.section.view = solver::View::plan;
    sample.c.section.bottom = -0.004;
    sample.c.section.top = 0.008;
    sample.c.section.depth = 1;
    mesh::Painting& painting = sample.answer.painting;
    const std::vector<mesh::PartId> flat = painting.part_of_voxel;
    painting.grid.z0 = sample.c.section.bottom;
    painting.grid.level_heights = {0.004, 0.002, 0.006};
    const mesh::Grid grid = painting.grid;
    painting.part_of_voxel.assign(grid.size(), 0);
    const std::array<std::array<bool, 4>, 3> parts_in_level{
        {{false, false, true, false}, {false, true, false, false}, {false, true, false, true}}};
    for (std::size_t v = 0; v < grid.size(); ++v) {
        const mesh::PartId part = flat[v % flat.size()];
        if (parts_in_level.at(v / flat.size()).at(part)) {
            painting.part_of_voxel[v] = part;
        }
    }
    count_voxels(painting, sample.c.parts.size());
    const std::vector<bool> metal = metal_voxels(sample.c, painting);
    fill_fields(sample.answer.fields, grid, metal);
    sample.answer.frames = std::make_shared<FormulaFrames>(grid, metal);
    for (solver::ProbeReport& probe : sample.answer.probes) {
        probe.at.z = 0.001;
    }
    for (solver::Probe& probe : sample.c.probes) {
        probe.at.z = 0.001;
    }
    return sample;
}

Sample large_sample(int nx, int ny, std::size_t frames)
{
    Sample sample;
    sample.c.title = "Disk";
    sample.c.materials = three_materials();
    sample.c.parts = {part_of("mould", Role::sand, 0), part_of("disk", Role::casting, 1)};
    mesh::Grid grid;
    grid.nx = nx;
    grid.ny = ny;
    grid.cell = 0.0005;
    sample.c.section.cell = grid.cell;
    sample.c.section.box = grid.box();
    mesh::Painting& painting = sample.answer.painting;
    painting.grid = grid;
    painting.part_of_voxel.assign(grid.size(), 0);
    for (int j = 0; j < ny; ++j) {
        for (int i = 0; i < nx; ++i) {
            if (std::hypot(i - nx / 2.0, j - ny / 2.0) < 0.3 * ny) {
                painting.part_of_voxel[grid.index(i, j)] = 1;
            }
        }
    }
    count_voxels(painting, 2);
    fill_fields(sample.answer.fields, grid, metal_voxels(sample.c, painting));
    for (std::size_t v = 0; v < grid.size(); ++v) {
        const double i = static_cast<double>(v % static_cast<std::size_t>(nx));
        const std::size_t row = v / static_cast<std::size_t>(nx);
        const auto j = static_cast<double>(row);
        const double r = std::hypot(i - nx / 2.0, j - ny / 2.0) / (0.3 * ny);
        if (r < 1) {
            sample.answer.fields.freezes[v] = static_cast<float>(22 * (1 - r * r) + 0.2);
        }
    }
    sample.answer.frames = std::make_shared<DiskFrames>(grid, frames);
    return sample;
}

Sample large_plan(int nx, int ny, int levels, std::size_t frames)
{
    Sample sample = large_sample(nx, ny, frames);
    sample.c.title = "Lens";
    sample.c.parts.back().name = "lens";
    sample.c.section.view = solver::View::plan;
    mesh::Painting& painting = sample.answer.painting;
    mesh::Grid& grid = painting.grid;
    grid.cell = sample.c.section.cell = 0.002;
    grid.level_heights.clear();
    for (int k = 0; k < levels; ++k) {
        grid.level_heights.push_back(0.001 * (1 + k % 3));
    }
    grid.z0 = -0.02;
    sample.c.section.box = grid.box();
    sample.c.section.bottom = grid.z0;
    sample.c.section.top = grid.z_face(levels);
    sample.c.parts.back().reach = {grid.z0, sample.c.section.top};
    std::vector<float> out;
    painting.part_of_voxel.clear();
    for (std::size_t v = 0; v < grid.size(); ++v) {
        out.push_back(static_cast<float>(out_of_lens(grid, v)));
        painting.part_of_voxel.push_back(out.back() < 1 ? 1 : 0);
    }
    count_voxels(painting, 2);
    solver::VoxelFields& fields = sample.answer.fields;
    fill_fields(fields, grid, metal_voxels(sample.c, painting));
    for (std::size_t v = 0; v < grid.size(); ++v) {
        if (out[v] < 1) {
            fields.freezes[v] = 150 * (1 - out[v] * out[v]) + 3;
        }
    }
    sample.answer.frames = std::make_shared<LensFrames>(std::move(out), frames);
    return sample;
}

Sample drawn_sample(const solver::Section& section, std::vector<solver::Part> parts)
{
    Sample sample;
    sample.c.section = section;
    sample.c.materials = three_materials();
    sample.c.parts = {part_of("mould", Role::sand, 0)};
    std::vector<mesh::PaintedShape> shapes;
    for (solver::Part& part : parts) {
        shapes.push_back({part.shape, solver::is_poured(part.role)});
        sample.c.parts.push_back(std::move(part));
    }
    mesh::Grid grid;
    grid.cell = section.cell;
    grid.x0 = section.box.x0;
    grid.y0 = section.box.y0;
    grid.nx = static_cast<int>(std::lround((section.box.x1 - section.box.x0) / section.cell));
    grid.ny = static_cast<int>(std::lround((section.box.y1 - section.box.y0) / section.cell));
    grid.symmetry =
        section.view == solver::View::planar ? mesh::Symmetry::planar : mesh::Symmetry::axisymmetric;
    sample.answer.painting = mesh::paint(grid, shapes, {});
    return sample;
}

ScratchFolder::ScratchFolder()
{
    std::string name = (std::filesystem::temp_directory_path() / "sandfreeze-test-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) {
        throw std::runtime_error("no scratch folder");
    }
    path_ = name;
}

ScratchFolder::~ScratchFolder()
{
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::set<std::string> files_in(const std::filesystem::path& folder)
{
    std::set<std::string> names;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        if (entry.is_regular_file()) {
            names.insert(std::filesystem::relative(entry.path(), folder).string());
        }
    }
    return names;
}

SmallDisk::SmallDisk(unsigned long bytes)
{
    std::signal(SIGXFSZ, SIG_IGN);
    rlimit limit{};
    ::getrlimit(RLIMIT_FSIZE, &limit);
    earlier_ = limit.rlim_cur;
    limit.rlim_cur = bytes;
    ::setrlimit(RLIMIT_FSIZE, &limit);
}

SmallDisk::~SmallDisk()
{
    rlimit limit{};
    ::getrlimit(RLIMIT_FSIZE, &limit);
    limit.rlim_cur = earlier_;
    ::setrlimit(RLIMIT_FSIZE, &limit);
}

std::string text_of(const std::filesystem::path& file)
{
    std::ostringstream text;
    text << std::ifstream(file, std::ios::binary).rdbuf();
    return text.str();
}

}  // namespace sandfreeze::io_test
