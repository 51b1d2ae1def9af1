// From the file of a measured head to its job: binary PLY, sd 0.02, 30 % outliers, the file warm, on
// the threads there are; and in the same run a peer over the same points (scan_peer.hpp), which has them in
// memory and finds cylinders alone. `private_MB` is what the process holds beside the mapped file and beyond
// what it held before; `guides` are those within half a millimetre, `axis_deg` and `axis_mm` their rms.
#include <benchmark/benchmark.h>

#include <filesystem>
#include <fstream>
#include <map>

#include "scan/files.hpp"
#include "scan_peer.hpp"
#include "seatwright/scan/job_text.hpp"
#include "seatwright/scan/mapped.hpp"
#include "seatwright/scan/surface.hpp"

namespace {

using namespace seatwright;
namespace made = scan::made;

struct Drawn {
    made::Head head;
    std::string path;
    scan::peer::Set points;  // with their true normals, those of others any
};

// Of each size one, kept for all benches.
const Drawn& drawn(std::size_t count) {
    static std::map<std::size_t, Drawn> all;
    const auto [at, fresh] = all.try_emplace(count);
    Drawn& out = at->second;
    if (!fresh) return out;
    constexpr double outliers = 0.3;
    made::Rng rng(1);
    out.head = made::head_of({});
    const auto on = static_cast<std::size_t>((1 - outliers) * static_cast<double>(count));
    const auto places = made::evenly_over(out.head.surfaces, on, rng);
    std::vector<Vec3> points;
    points.reserve(count);
    const auto add = [&](const Vec3& p, const Vec3& n) {
        points.push_back(p);
        out.points.push_back({{p.x(), p.y(), p.z()}, {n.x(), n.y(), n.z()}});
    };
    out.points.reserve(count);
    for (const auto& s : places) add(s.at + 0.02 * made::normally(rng) * s.normal, s.normal);
    while (points.size() < count) {
        const Vec3 n(made::normally(rng), made::normally(rng), made::normally(rng));
        add({out.head.middle.x() + made::evenly(rng, -out.head.half_x, out.head.half_x),
             made::evenly(rng, -out.head.half_y, out.head.half_y), made::evenly(rng, -90, 20)},
            n.normalized());
    }
    for (std::size_t i = points.size(); i > 1; --i) {
        const auto k = rng() % i;
        std::swap(points[i - 1], points[k]);
        std::swap(out.points[i - 1], out.points[k]);
    }
    out.path =
        (std::filesystem::temp_directory_path() / fmt::format("seatwright-bench-{}.ply", count)).string();
    std::ofstream(out.path, std::ios::binary) << made::as_ply(points, made::Ply::little);
    return out;
}

// Memory of the process that no file backs, MB.
double private_mb() {
    std::ifstream status("/proc/self/status");
    std::string word;
    while (status >> word)
        if (word == "RssAnon:") {
            double kb = 0;
            status >> kb;
            return kb / 1024;
        }
    return 0;
}

// How many of the true guides are among them, and how far their axes are off.
template <class Fits>
void tell_guides(benchmark::State& state, const made::Head& head, const Fits& fits) {
    double found = 0, degrees = 0, places = 0;
    for (const auto& s : head.surfaces) {
        if (std::string(s.name) != "guide") continue;
        const Vec3 middle = s.at + (s.s0 + s.s1) / 2 * s.axis;
        for (const scan::CylinderFit& fit : fits) {
            const auto& c = fit.cylinder;
            const Vec3 off = middle - c.at;
            const double place = (off - c.axis.dot(off) * c.axis).norm();
            if (place > 0.5 || std::abs(c.axis.dot(s.axis)) < 0.99 || std::abs(c.radius - s.rho0) > 0.5)
                continue;
            ++found;
            degrees += std::pow(deg(std::asin(std::min(1.0, c.axis.cross(s.axis).norm()))), 2) / 2;
            places += place * place / 2;
            break;
        }
    }
    state.counters["guides"] = found;
    if (found > 0) {
        state.counters["axis_deg"] = std::sqrt(degrees / found);
        state.counters["axis_mm"] = std::sqrt(places / found);
    }
}

void scan_file(benchmark::State& state) {
    const auto& d = drawn(static_cast<std::size_t>(state.range(0)));
    const double before = private_mb();
    double most = 0;
    std::vector<scan::CylinderFit> fits;
    for ([[maybe_unused]] auto once : state) {
        const auto file = scan::Mapped::of(d.path);
        const auto surface = scan::surface_of(file->bytes(), d.path, {}, 0, [&](scan::Step step, double) {
            if (step == scan::Step::fitting) most = std::max(most, private_mb() - before);
        });
        const auto found = surface ? scan::scan_of(*surface, {}) : tl::unexpected(surface.error());
        if (!found) {
            state.SkipWithError(found.error().front().text.c_str());
            return;
        }
        benchmark::DoNotOptimize(scan::job_text(*found));
        fits.clear();
        // The head's frame begins at the first cylinder's valves.
        const Vec3 origin = (d.head.valves[0].gauge + d.head.valves[1].gauge) / 2;
        for (const auto& v : found->valves) {
            fits.emplace_back().cylinder = v.wall;
            fits.back().cylinder.at.head<2>() += origin.head<2>();
        }
    }
    tell_guides(state, d.head, fits);
    state.counters["private_MB"] = most;
}

void peer_finds(benchmark::State& state) {
    const auto& d = drawn(static_cast<std::size_t>(state.range(0)));
    std::vector<scan::CylinderFit> fits;
    for ([[maybe_unused]] auto once : state)
        fits = scan::peer::bores_of(d.points, {state.range(1) != 0}, 0.02);
    tell_guides(state, d.head, fits);
}

BENCHMARK(scan_file)
    ->Arg(1'000'000)
    ->Arg(5'000'000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->MeasureProcessCPUTime();
// Points, and whether their normals are given.
BENCHMARK(peer_finds)
    ->Args({1'000'000, 1})
    ->Args({1'000'000, 0})
    ->Args({5'000'000, 1})
    ->Args({5'000'000, 0})
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->MeasureProcessCPUTime();

}  // namespace
