// A proof kept while readings come in has the bits of one made of them all at once, whatever is read,
// corrected, put aside and taken back. Invented readings.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <numeric>
#include <random>
#include <utility>

#include "draws.hpp"
#include "job_fixtures.hpp"
#include "seatwright/prove/head_sums.hpp"
#include "seatwright/prove/measured.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::prove {
namespace {

class Readings {
  public:
    explicit Readings(const job::Job& job) : job_(job) {}

    job::SeatAfter seat(const std::string& head) {
        job::SeatAfter read;
        read.head = head;
        read.valve = job_.head.valves[dice_() % job_.head.valves.size()].id;
        read.gauge_u = 0.001;
        read.cutter = dice_() % 40 == 0 ? "blunt" : dice_() % 3 == 0 ? "sharp" : "";
        std::normal_distribution<double> scatter(0, 0.004);
        if (dice_() % 5 != 0) read.runout = 0.02 + std::abs(scatter(dice_));
        if (dice_() % 5 != 0) read.stem_height = 48 + scatter(dice_);
        if (dice_() % 3 != 0) read.width = {1.5 + scatter(dice_)};
        return read;
    }
    job::GuideBore guide(const std::string& head) {
        job::GuideBore read;
        read.head = head;
        read.valve = job_.head.valves[dice_() % job_.head.valves.size()].id;
        read.top = read.middle = read.bottom = 8.73 + 0.01 * static_cast<double>(dice_() % 3);
        return read;
    }
    std::size_t pick(std::size_t of) { return dice_() % of; }

  private:
    const job::Job& job_;
    std::mt19937 dice_{23};
};

std::string text_of(const job::Job& job, const Proof& proof) {
    return report::json_of(job, proof).dump();
}

TEST(GrowingProof, HasTheBitsOfAFreshOne) {
    job::Job job = fixtures::wedge_job(2);
    Readings readings(job);
    Before kept;
    std::size_t heads = 1, parted = 0;
    const int steps = drawn(280, 700, 100);
    for (int step = 0; step < steps; ++step) {
        auto& proofs = job.readings.proofs;
        const auto what = readings.pick(20);
        heads += readings.pick(6) == 0;
        // Now and then a head that has no number, and one read long ago.
        const std::string head = step > 4 * steps / 7 && what == 0
                                     ? "spare"
                                     : std::to_string(heads - readings.pick(heads > 2 ? 2 : 1));
        if (what < 14 || proofs.size() < 3) {
            proofs.push_back(readings.seat(head));
        } else if (what < 17) {
            job.readings.guides.push_back(readings.guide(head));
        } else if (what < 18) {
            const std::size_t at = readings.pick(proofs.size());
            const std::string of = std::as_const(proofs)[at].head;
            proofs[at] = readings.seat(of);  // corrected
        } else if (what < 19) {
            proofs.erase(proofs.begin() + static_cast<std::ptrdiff_t>(readings.pick(proofs.size())));
        } else {
            proofs.pop_back();  // taken back
        }
        if (step % 9 != 0) continue;
        for (const std::string& of : {std::string(), head}) {
            const Proof grown = judge(job, of, &kept);
            ASSERT_EQ(text_of(job, grown), text_of(job, judge(job, of))) << step;
            parted += grown.components.size();
        }
    }
    EXPECT_GT(heads, static_cast<std::size_t>(steps / 14));
    EXPECT_GT(parted, static_cast<std::size_t>(steps / 14));
}

TEST(HeadSums, AreTheSameHoweverTheyCameAbout) {
    std::mt19937 dice(4);
    std::uniform_real_distribution<double> value(0, 1);
    std::vector<double> own;
    HeadSums<double> kept;
    const auto of = [&](std::size_t head) { return own[head]; };
    for (int step = 0; step < 600; ++step) {
        std::vector<std::size_t> changed;
        if (step % 3 != 0 && !own.empty()) {
            changed = {dice() % own.size()};
            own[changed[0]] = value(dice);
        } else {
            changed = {own.size()};
            own.push_back(value(dice));
        }
        kept.renew(changed, own.size(), of);
        HeadSums<double> fresh;
        std::vector<std::size_t> all(own.size());
        std::iota(all.begin(), all.end(), std::size_t{0});
        fresh.renew(all, own.size(), of);
        ASSERT_EQ(kept.total(), fresh.total());
        const std::size_t from = dice() % own.size();
        ASSERT_EQ(kept.from(from, own.size(), of), fresh.from(from, own.size(), of));
        double in_line = 0;
        for (std::size_t head = from; head < own.size(); ++head) in_line += own[head];
        ASSERT_NEAR(kept.from(from, own.size(), of), in_line, 1e-10);
    }
}

}  // namespace
}  // namespace seatwright::prove
