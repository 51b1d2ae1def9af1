// The demonstration jobs planned by the binary: every seat is cut, and cut clean.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "outside/program.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"

namespace seatwright::outside {
namespace {

using nlohmann::json;

json planned(const std::string& name) {
    const Scratch scratch;
    const fs::path out = scratch.path() / "papers";
    const std::string job = std::string(places::root) + "/examples/" + name + "/job.toml";
    const Ran ran = run("plan " + job + " --out " + out.string());
    EXPECT_EQ(ran.status, 0) << name << "\n" << ran.out << ran.err;
    return json::parse(slurp(out / "plan.json"));
}

// How far each old seat lies below its drawing height, mm: the recessions that the jobs' stem heights tell
// (tests/job/examples_test.cpp). Written down here once more, so that nothing of the program is asked.
const std::map<std::string, std::map<std::string, double>> recessions = {{"wedge",
                                                                          {{"1E", 0.254},
                                                                           {"1I", 0.3048},
                                                                           {"2E", 0.2032},
                                                                           {"2I", 0.3302},
                                                                           {"3E", 0.3302},
                                                                           {"3I", 0.381},
                                                                           {"4E", 0.2794},
                                                                           {"4I", 0.381}}},
                                                                         {"pent-roof",
                                                                          {{"1Ia", 0.11},
                                                                           {"1Ib", 0.12},
                                                                           {"2Ia", 0.14},
                                                                           {"2Ib", 0.10},
                                                                           {"3Ia", 0.12},
                                                                           {"3Ib", 0.11},
                                                                           {"4Ia", 0.15},
                                                                           {"4Ib", 0.15},
                                                                           {"1Ea", 0.17},
                                                                           {"1Eb", 0.17},
                                                                           {"2Ea", 0.18},
                                                                           {"2Eb", 0.19},
                                                                           {"3Ea", 0.13},
                                                                           {"3Eb", 0.17},
                                                                           {"4Ea", 0.20},
                                                                           {"4Eb", 0.11}}},
                                                                         {"canted",
                                                                          {{"1I", 0.25},
                                                                           {"1E", 0.32},
                                                                           {"2I", 0.26},
                                                                           {"2E", 0.22},
                                                                           {"3I", 0.27},
                                                                           {"3E", 0.33},
                                                                           {"4I", 0.29},
                                                                           {"4E", 0.21}}}};

const json& seat_of(const json& plan, const std::string& id) {
    for (const auto& seat : plan["shape"]["seats"])
        if (seat["id"] == id) return seat;
    throw std::runtime_error("no seat " + id);
}

TEST(ExamplePlans, EverySeatIsCutAndNothingIsHeldBack) {
    for (const auto& [name, sunk] : recessions) {
        const json plan = planned(name);
        ASSERT_EQ(plan["shape"]["seats"].size(), sunk.size()) << name;
        for (const auto& seat : plan["shape"]["seats"]) {
            const std::string what = name + " " + seat["id"].get<std::string>();
            EXPECT_EQ(seat["decision"], "cut") << what;
            EXPECT_GE(seat["depth_mm"].get<double>(), seat["cleanup_mm"].get<double>() - 1e-9) << what;
            EXPECT_GT(seat["bridge_mm"].get<double>(), 1.0) << what;
            EXPECT_GT(seat["cutter_clearance_mm"].get<double>(), 1.0) << what;
            EXPECT_TRUE(seat["cutter"].is_string()) << what;
        }
        EXPECT_TRUE(plan["cut"]["held_back"].empty()) << name << plan["cut"]["held_back"].dump();
        EXPECT_EQ(plan["cut"]["order"].size(), sunk.size()) << name;
        EXPECT_GE(plan["cut"]["programs"].size(), plan["hold"]["setups"].size()) << name;
    }
}

// Each stop lies at −ρ − d from where the drawing has the seat, whatever Z0 is: cut clean on every seat, and
// nowhere deeper than planned. What is left over is one figure for each cutter of a setup, its Z0.
TEST(ExamplePlans, StopsStandTheirDepthBelowTheOldSeats) {
    for (const auto& [name, sunk] : recessions) {
        const json plan = planned(name);
        std::size_t judged = 0;
        for (const auto& setup : plan["hold"]["setups"]) {
            std::map<std::string, std::vector<double>> zero;  // by cutter
            for (const auto& held : setup["valves"]) {
                const std::string id = held["id"];
                const json& seat = seat_of(plan, id);
                const double stop = held["z_mm"].get<double>() - sunk.at(id) - seat["depth_mm"].get<double>();
                zero[seat["cutter"]].push_back(seat["program_z_mm"].get<double>() - stop);
                ++judged;
            }
            for (const auto& [cutter, left] : zero)
                for (const double z : left) EXPECT_NEAR(z, left.front(), 1e-3) << name << " " << cutter;
        }
        EXPECT_EQ(judged, sunk.size()) << name;
    }
}

// working.md B1: deck point (60, 40) by a ball of radius 3, lengths to a lowest edge 2.2624 under the gauge
// plane, 1I cut 0.19 and 3I 0.15: −31.0107 and −15.7217. The example's blade has its lowest edge at 2.7926
// and cuts both 0.19.
TEST(ExamplePlans, TheCantedHeadStandsOnItsDeckAsWorkedOutByHand) {
    const json plan = planned("canted");
    const double lower = 2.7926 - 2.2624;
    EXPECT_NEAR(seat_of(plan, "1I")["program_z_mm"].get<double>(), -31.0107 - lower, 2e-4);
    EXPECT_NEAR(seat_of(plan, "3I")["program_z_mm"].get<double>(), -15.7217 - lower - 0.04, 2e-4);
}

}  // namespace
}  // namespace seatwright::outside
