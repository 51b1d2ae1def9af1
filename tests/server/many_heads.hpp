// A 32-valve job of many heads, eighteen readings each: six touches, four guides, four seats, four proofs,
// each head lying a little otherwise. Invented.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <ctime>
#include <random>
#include <string>

#include "client.hpp"
#include "seatwright/hold/hold.hpp"

namespace seatwright::server {

// Processor time of this process, ms.
inline double cpu_ms() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

inline constexpr int readings_of_a_head = 18;

class Heads {
  public:
    explicit Heads(const job::Job& job) : job_(job), hold_(hold::plan(job)) {}

    // The n-th of the readings of head `head`.
    store::NewEntry reading(int head, int n) {
        std::normal_distribution<double> scatter(0, 0.01);
        store::NewEntry entry;
        entry.client_key = fmt::format("reading-{:06}-{:03}", head, n);
        entry.head = std::to_string(head);
        entry.units = LengthUnit::mm;
        const auto rounded = [&](double value) { return std::round(1e3 * value) / 1e3; };
        if (n < 6) {
            const auto& held = hold_.setups[static_cast<std::size_t>(n % 2)].valves;
            const auto& guide = held[static_cast<std::size_t>(n / 2) * (held.size() - 1) / 2];
            entry.kind = store::EntryKind::touch;
            entry.valve = job_.head.valves[guide.valve].id;
            entry.values = {{"x", rounded(guide.readout.x() + 0.02 + scatter(dice_))},
                            {"y", rounded(guide.readout.y() - 0.01 + scatter(dice_))}};
            return entry;
        }
        entry.valve = job_.head.valves[static_cast<std::size_t>(7 * n) % job_.head.valves.size()].id;
        if (n < 10) {
            entry.kind = store::EntryKind::guide;
            entry.values = {{"top", 6.002}, {"middle", 6.001}, {"bottom", 6.002}};
        } else if (n < 14) {
            entry.kind = store::EntryKind::seat;
            entry.values = {{"cleanup", rounded(0.12 + std::abs(scatter(dice_)))},
                            {"stem_height", rounded(39 + scatter(dice_))},
                            {"recession", 0.1}};
        } else {
            entry.kind = store::EntryKind::proof;
            entry.values = {{"runout", rounded(0.012 + std::abs(scatter(dice_)))},
                            {"stem_height", rounded(39.1 + scatter(dice_))}};
        }
        return entry;
    }

  private:
    const job::Job& job_;
    hold::Hold hold_;
    std::mt19937_64 dice_{1};
};

// That touch corrected, moved along X.
inline store::NewEntry moved(const store::Entry& touch, double by) {
    store::NewEntry entry;
    entry.client_key = fmt::format("correction-of-{:06}", touch.id);
    entry.kind = touch.kind;
    entry.head = touch.head;
    entry.valve = touch.valve;
    entry.units = touch.units;
    entry.corrects = touch.id;
    entry.values = touch.values;
    entry.values["x"] = touch.values["x"].get<double>() + by;
    return entry;
}

// `empty`: the job of whose text the new one is made. Its id.
inline long long job_of_heads(TestShop& shop, long long empty, int heads) {
    const auto stored = shop.bench->cache.stored(empty);
    Heads of(*stored->document);
    store::NewJob made;
    made.text = stored->version.text;
    made.what = "many heads";
    for (int head = 1; head <= heads; ++head)
        for (int n = 0; n < readings_of_a_head; ++n) made.entries.push_back(of.reading(head, n));
    return shop.bench->jobs.make(shop.bench->people.all().front(), made, {})->id;
}

}  // namespace seatwright::server
