// Reading TOML: the document of this program and, as its peer in the same run, toml++, which keeps values
// alone. bytes_per_second is what counts; memory_times_text is the heap a document takes, its text included.
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <malloc.h>

#include <toml++/toml.h>
#include <string>

#include "seatwright/toml/document.hpp"
#include "seatwright/toml/edit.hpp"

namespace {

using seatwright::toml::Document;

constexpr std::size_t size = 4u << 20;

// Readings of many heads as the store exports them.
std::string readings() {
    std::string out = "units = \"mm\"\n";
    for (int head = 1; out.size() < size; ++head) {
        for (int valve = 1; valve <= 8; ++valve) {
            out += fmt::format("\n[[reading.touch]]\nhead = \"{}\"\nvalve = \"{}I\"\nx = {}\ny = {}\n", head,
                               valve, 0.001 * head + 12.5 * valve, -0.0125 * valve);
            out += fmt::format(
                "\n[[reading.seat]]\nhead = \"{}\"\nvalve = \"{}I\"\nrecession = 0.35\nsection = [[19, "
                "-1.05], [20, 0], [21.5, 1]]\n",
                head, valve);
        }
        out += fmt::format(
            "\n[[reading.proof]]\nhead = \"{}\"\nvalve = \"1I\"\ntrace = [0, -0.004, 0.012, 0.003, -0.02, "
            "0.015, 0.002, 0.001]\n",
            head);
    }
    return out;
}

// One long list of numbers.
std::string numbers() {
    std::string out = "trace = [";
    for (int i = 0; out.size() < size; ++i) out += fmt::format("{}, ", 0.0001 * (i % 977));
    return out + "]\n";
}

// A shelf: many keys, comments, tables in braces.
std::string shelf() {
    std::string out = "units = \"mm\"\n";
    for (int i = 0; out.size() < size; ++i)
        out += fmt::format(
            "\n# Cutter {0}, invented.\n[[cutter]]\nname = \"C{0}\"\nblades = 1\nmaterial = \"carbide\"\n"
            "facets = [ {{ angle = 60, width = 1.2 }}, {{ angle = 45, width = 1.8 }}, {{ angle = 30, width "
            "= {1} }} ]   # steep to flat\nmin_diameter = {1}\n",
            i, 0.5 + 0.001 * (i % 400));
    return out;
}

// What takes most memory for its bytes: nothing but tables in braces, nothing but parts of keys.
std::string braces() {
    std::string out = "list = [";
    while (out.size() < size) out += "{a=1},";
    return out + "]\n";
}
std::string dotted_keys() {
    std::string out = "list = [";
    while (out.size() < size) out += "{a.b.c.d.e.f.g.h.i.j.k.l=1},";
    return out + "]\n";
}

double heap() {
    const auto info = mallinfo2();
    return static_cast<double>(info.uordblks + info.hblkhd);
}

void document(benchmark::State& state, std::string (*make)()) {
    const std::string text = make();
    for (auto _ : state) benchmark::DoNotOptimize(Document::parse(text));
    state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
    const double before = heap();
    const auto kept = Document::parse(text);
    state.counters["memory_times_text"] = (heap() - before) / static_cast<double>(text.size());
}

void peer(benchmark::State& state, std::string (*make)()) {
    const std::string text = make();
    for (auto _ : state) benchmark::DoNotOptimize(::toml::parse(text));
    state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
    const double before = heap();
    const auto kept = ::toml::parse(text);
    state.counters["memory_times_text"] =
        (heap() - before + static_cast<double>(text.size())) / static_cast<double>(text.size());
}

// One value of a job of 5 kB: found, replaced, read again and compared.
void edit(benchmark::State& state) {
    const std::string text = shelf();
    const auto job = Document::parse(text.substr(0, text.rfind("\n\n", 5000) + 1));
    if (!seatwright::toml::set_value(job, "cutter[3].blades", "2"))
        state.SkipWithError("the edit was refused");
    for (auto _ : state) benchmark::DoNotOptimize(seatwright::toml::set_value(job, "cutter[3].blades", "2"));
}

BENCHMARK_CAPTURE(document, readings, readings)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(peer, readings, readings)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(document, numbers, numbers)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(peer, numbers, numbers)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(document, shelf, shelf)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(peer, shelf, shelf)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(document, braces, braces)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(document, dotted_keys, dotted_keys)->Unit(benchmark::kMillisecond);
BENCHMARK(edit)->Unit(benchmark::kMicrosecond);

}  // namespace
