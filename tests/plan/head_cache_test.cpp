// Heads located before are taken from the cache, and every answer has the bits a fresh run gives: while heads
// are added, corrected, put aside and brought back.
#include "seatwright/find/head_cache.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <random>

#include "job_fixtures.hpp"
#include "seatwright/plan/result_cache.hpp"
#include "seatwright/plan/run.hpp"
#include "seatwright/report/report.hpp"
#include "spoken.hpp"

namespace seatwright::plan {
namespace {

using OneRun = plan::Run;  // tests have a Run() of their own

std::string told(const job::Job& job, const find::Find& find) {
    std::string out = report::json_frame(job, find).dump() + report::json_of(job, find).dump();
    for (const auto& held : find.held_back)
        out += held.head + held.setup + spoken(held.reason) + spoken(held.frees);
    return out;
}

// A shop's record of one job.
class Shop {
  public:
    Shop() : job_(fixtures::wedge_job()), hold_(hold::plan(job_)) { job_.find.learn_min_heads = 4; }

    void add_head(const std::string& name) {
        std::normal_distribution<double> casting(0, 0.03), touch(0, 0.005);
        const auto& held = hold_.setups.front().valves;
        for (std::size_t i = 0; i < held.size(); i += 2) {
            job::Touch one;
            one.head = name;
            one.valve = job_.head.valves[held[i].valve].id;
            one.at = held[i].readout + Vec2(0.1 + casting(dice_), touch(dice_));
            job_.readings.touches.push_back(one);
        }
        job::GuideBore bore{.valve = "1I", .top = 8.95, .middle = 8.94, .bottom = 8.95};
        bore.head = name;
        job_.readings.guides.push_back(bore);
    }
    // Both ways, held against each other; how many heads were located for it.
    std::size_t locate() {
        const auto given = std::make_shared<const job::Job>(job_);
        const std::size_t before = cache_.located.worked_out();
        OneRun warm(given, {}, &cache_), fresh(given, {});
        EXPECT_EQ(told(job_, warm.find()), told(job_, fresh.find()));
        return cache_.located.worked_out() - before;
    }
    job::Readings& readings() { return job_.readings; }
    job::Job& job() { return job_; }

  private:
    job::Job job_;
    hold::Hold hold_;
    ResultCache cache_;
    std::mt19937_64 dice_{3};
};

TEST(HeadCache, GivesTheBitsOfAFreshRun) {
    Shop shop;
    for (int head = 1; head <= 30; ++head) {
        shop.add_head(std::to_string(head));
        EXPECT_EQ(shop.locate(), 1u) << "head " << head << " alone is new";
    }
    // Another touch, and a guide, of the head in hand.
    shop.readings().touches.push_back(shop.readings().touches.back());
    EXPECT_EQ(shop.locate(), 1u);
    shop.readings().guides.back().bottom += 0.002;
    EXPECT_EQ(shop.locate(), 1u);

    const job::Readings then = shop.readings();
    shop.readings().touches[40].at.x() += 0.02;
    const std::size_t after = shop.locate();
    EXPECT_GE(after, 1u) << "a correction of an old head";
    EXPECT_LE(after, 21u) << "those before it stand";
    shop.readings() = then;
    EXPECT_EQ(shop.locate(), 0u) << "undone";

    erase_if(shop.readings().touches, [](const job::Touch& touch) { return touch.head == "12"; });
    EXPECT_LE(shop.locate(), 18u) << "a head put aside: those after it";
    shop.readings() = then;
    EXPECT_EQ(shop.locate(), 0u) << "and back";

    shop.readings().touches.front().at.y() += 3;
    shop.locate();
    shop.readings() = then;
    shop.job().find.touch_sd *= 2;
    EXPECT_EQ(shop.locate(), 30u) << "another rule is another question";
}

}  // namespace
}  // namespace seatwright::plan
