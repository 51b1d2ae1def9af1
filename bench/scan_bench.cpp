// From the file of a measured head to its job: binary PLY, sd 0.02, 30 % outliers, the file warm, on the
// threads there are. `private_MB` is what the process holds beside the mapped file.
#include <benchmark/benchmark.h>

#include <filesystem>
#include <fstream>

#include "scan/files.hpp"
#include "scan/made_head.hpp"
#include "seatwright/scan/job_text.hpp"
#include "seatwright/scan/mapped.hpp"

namespace {

using namespace seatwright;
namespace made = scan::made;

std::string file_of(std::size_t count) {
    const auto path =
        (std::filesystem::temp_directory_path() / fmt::format("seatwright-bench-{}.ply", count)).string();
    made::Rng rng(1);
    const auto head = made::head_of({});
    const auto points =
        made::cloud_of(head, made::evenly_over(head.surfaces, count * 7 / 10, rng), {0.02, 0.3, 0}, rng);
    std::ofstream(path, std::ios::binary) << made::as_ply(points, made::Ply::little);
    return path;
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

void scan_file(benchmark::State& state) {
    const auto path = file_of(static_cast<std::size_t>(state.range(0)));
    double most = 0;
    std::size_t valves = 0;
    for ([[maybe_unused]] const auto& once : state) {
        const auto file = scan::Mapped::of(path);
        const auto found = scan::scan_of(file->bytes(), path, {});
        if (!found) {
            state.SkipWithError(found.error().front().text.c_str());
            break;
        }
        benchmark::DoNotOptimize(scan::job_text(*found));
        valves = found->valves.size();
        most = std::max(most, private_mb());
    }
    state.counters["valves"] = static_cast<double>(valves);
    state.counters["private_MB"] = most;
    std::filesystem::remove(path);
}
BENCHMARK(scan_file)
    ->Arg(1'000'000)
    ->Arg(5'000'000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->MeasureProcessCPUTime();

}  // namespace
