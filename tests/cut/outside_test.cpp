// Every program of the examples and of 200 generated jobs, read by an outside interpreter of RS-274/NGC: its
// canonical moves reach every seat at the map's place and depth, in order; none is a rapid below the clear
// height but straight up, none sideways below it, and nothing goes down but with the spindle as it should be.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "draws.hpp"
#include "missing.hpp"
#include "outside_reader.hpp"
#include "places.hpp"
#include "seatwright/job/reader.hpp"
#include "shaped.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

// What the contract of the read-back allows: 0.1 µm, and the half decimal the dialect rounds off.
constexpr double agreement = 1e-4;

struct Held {
    std::size_t seats = 0, rapids = 0;
};

// Walks the calls; positions mm.
Held hold_against(const outside::Reading& reading, const job::Job& job, const Program& program) {
    Held held;
    EXPECT_EQ(reading.fault, "");
    const bool inch = job.units == LengthUnit::inch;
    const double unit = (inch ? mm_per_inch : 1) / 1000;
    const double rounding = 0.5 *
                            std::pow(10.0, -(inch ? job.dialect.decimals_inch : job.dialect.decimals_mm)) *
                            (inch ? mm_per_inch : 1);
    const double tolerance = std::max(agreement, rounding * (1 + 1e-6));
    const Route& route = program.route;
    Vec3 at(NAN, NAN, NAN);
    double rpm = 0, feed = 0;
    int tool = 0;
    bool turning = false, ended = false;
    std::string units;
    for (const outside::Call& call : reading.calls) {
        const Vec3 to = Vec3(call.at[0], call.at[1], call.at[2]) * unit;
        if (call.name == "USE_LENGTH_UNITS") units = call.words;
        if (call.name == "SET_SPINDLE_SPEED") rpm = call.at[1];
        if (call.name == "SET_FEED_RATE") feed = call.at[0] * (inch ? mm_per_inch : 1) / 60;
        if (call.name == "CHANGE_TOOL") tool = static_cast<int>(call.at[0]);
        if (call.name == "START_SPINDLE_CLOCKWISE") turning = true;
        if (call.name == "STOP_SPINDLE_TURNING") turning = false;
        if (call.name == "PROGRAM_END") ended = true;
        if (call.name == "STRAIGHT_TRAVERSE") {
            ++held.rapids;
            const bool known = !std::isnan(at.z());
            // Till it is known the tool stands at the top, where there are words for the way there.
            const bool low = known ? std::min(to.z(), at.z()) < route.clear - tolerance
                                   : job.dialect.top.empty() && to.z() < route.clear - tolerance;
            const bool straight_up = known && (to - at).head<2>().norm() < 1e-9 && to.z() >= at.z() - 1e-9;
            EXPECT_TRUE(!low || straight_up) << to.transpose();
            at = to;
        }
        if (call.name == "STRAIGHT_FEED") {
            if (!std::isnan(at.x())) {
                EXPECT_LT((to - at).head<2>().norm(), 1e-9);
            }
            // On the way down to the approach height nothing turns but a live pilot.
            if (held.seats < route.stops.size() && to.z() < at.z() &&
                to.z() > route.stops[held.seats].approach + tolerance) {
                EXPECT_FALSE(turning && route.stops[held.seats].entry_rpm <= 0);
            }
            at = to;
        }
        // Waits for the spindle are no dwells of a seat.
        if (call.name != "DWELL" || !turning || held.seats >= route.stops.size() ||
            std::abs(at.z() - route.stops[held.seats].z) > tolerance)
            continue;
        const Stop& stop = route.stops[held.seats++];
        EXPECT_NEAR(at.x(), stop.at.x(), tolerance) << stop.id;
        EXPECT_NEAR(at.y(), stop.at.y(), tolerance) << stop.id;
        EXPECT_NEAR(at.z(), stop.z, tolerance) << stop.id;
        if (job.machine.zero == job::ZeroKept::offsets) {
            EXPECT_EQ(tool, stop.tool.number);
        }
        EXPECT_NEAR(rpm, stop.rpm, 1e-3);
        EXPECT_NEAR(feed, stop.finish_feed, 2e-4);
        const double seconds = call.at[0] * (job.dialect.dwell_in_milliseconds ? 1e-3 : 1);
        EXPECT_GE(seconds, stop.dwell_seconds - 1e-4);
        EXPECT_LE(seconds, stop.dwell_seconds + 0.011);
    }
    EXPECT_EQ(held.seats, route.stops.size());
    EXPECT_EQ(units, inch ? "CANON_UNITS_INCHES" : "CANON_UNITS_MM");
    EXPECT_TRUE(ended);
    EXPECT_FALSE(turning);
    return held;
}

// The way to the top is in machine coordinates, of which the outside interpreter knows nothing here.
std::string without_top(std::string text, const job::Dialect& dialect) {
    for (std::size_t at; !dialect.top.empty() && (at = text.find(dialect.top + "\n")) != std::string::npos;)
        text.erase(at, dialect.top.size() + 1);
    return text;
}

job::Job generated(std::mt19937& random) {
    const auto between = [&](double a, double b) {
        return std::uniform_real_distribution<double>(a, b)(random);
    };
    const auto pick = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); };
    job::Job job = pick(2) == 0 ? fixtures::wedge_job(1 + pick(6), between(80, 140), between(-25, 25))
                                : fixtures::pent_roof_job(1 + pick(4), between(75, 110), between(5, 24));
    for (job::Valve& valve : job.head.valves)
        valve.seat += Vec3(between(-2, 2), between(-2, 2), between(-1, 1));
    job.units = pick(2) == 0 ? LengthUnit::mm : LengthUnit::inch;
    job.machine.x_sign = pick(2) == 0 ? 1 : -1;
    job.machine.y_sign = pick(2) == 0 ? 1 : -1;
    job.machine.travel_x = 2000;
    job.dialect.line_numbers = pick(2) == 0;
    job.machine.trim = pick(2) == 0 ? job::TrimAt::file : job::TrimAt::control;
    job.dialect.dwell_in_milliseconds = pick(3) == 0;
    job.dialect.comment =
        pick(2) == 0 ? job::Dialect::Comment::parentheses : job::Dialect::Comment::semicolon;
    job.dialect.program_end = pick(2) == 0 ? "M30" : "M2";
    job.dialect.decimals_mm = 4 + pick(3);
    job.dialect.decimals_inch = 6 + pick(2);
    return job;
}

TEST(Outside, GeneratedJobsAreReadAsPlanned) {
    const auto folder = outside::interpreter();
    if (!folder) GTEST_SKIP() << outside::missing(outside::no_interpreter);
    std::mt19937 random(274);
    std::size_t jobs = 0, programs = 0, seats = 0;
    const int asked = drawn(60, 500);
    for (int i = 0; i < asked; ++i) {
        const auto s =
            fixtures::shaped(generated(random), std::uniform_real_distribution<double>(0, 0.6)(random));
        const Cut cut = s.plan();
        std::string said;
        for (const Warning& warning : cut.warnings) said += spoken(warning.text) + "\n";
        for (const HeldBack& held : cut.held_back) said += spoken(held.reason) + "\n";
        ASSERT_EQ(cut.programs.size(), cut.routes.size()) << i << "\n" << said;
        ASSERT_GE(cut.programs.size(), s.hold.setups.size()) << i << "\n" << said;
        ++jobs;
        for (const Program& program : cut.programs) {
            const Held held = hold_against(outside::read(*folder, program.text), s.job, program);
            seats += held.seats;
            ++programs;
            ASSERT_FALSE(HasFailure()) << "job " << i << "\n" << program.text;
        }
        // Place and depth are the map's.
        for (const Route& route : cut.routes)
            for (const Stop& stop : route.stops)
                for (const auto& setup : s.hold.setups)
                    for (const auto& held : setup.valves) {
                        if (held.valve != stop.valve) continue;
                        EXPECT_NEAR((stop.at - held.readout).norm(), 0, 1e-12);
                        EXPECT_NEAR(stop.z + route.zeros.at(0).taken.zeta,
                                    held.map.z() - *s.shape.seats[stop.valve].depth, 1e-9);
                    }
    }
    EXPECT_GT(seats, 5 * jobs);
    std::cout << jobs << " jobs, " << programs << " programs, " << seats << " seats read outside\n";
}

std::string slurp(const std::filesystem::path& path) {
    std::ifstream file(path);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

TEST(Outside, EveryProgramOfTheExamplesIsReadAsPlanned) {
    const auto folder = outside::interpreter();
    if (!folder) GTEST_SKIP() << outside::missing(outside::no_interpreter);
    std::size_t programs = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(places::root) / "examples")) {
        const auto path = entry.path() / "job.toml";
        if (!std::filesystem::exists(path)) continue;
        const job::Fetch fetch = [&](const std::string& shop) -> tl::expected<std::string, std::string> {
            return slurp(entry.path() / shop);
        };
        const auto job = job::read_job(slurp(path), path.string(), fetch);
        ASSERT_TRUE(job) << to_line(job.error().front());
        for (const auto& head : job->heads()) {
            const auto hold = hold::plan(*job);
            const auto find = find::locate(*job, hold);
            const auto shape = shape::design(*job, hold, find, head);
            for (const Program& program : plan(*job, hold, find, shape).programs) {
                EXPECT_GT(hold_against(outside::read(*folder, without_top(program.text, job->dialect)), *job,
                                       program)
                              .seats,
                          0u);
                ++programs;
            }
        }
    }
    EXPECT_GE(programs, 7u);
    std::cout << programs << " programs of the examples read outside\n";
}

TEST(Outside, ItRefusesWhatWeRefuse) {
    const auto folder = outside::interpreter();
    if (!folder) GTEST_SKIP() << outside::missing(outside::no_interpreter);
    for (const char* program :
         {"G20 G21\nM2\n", "G21\nG1 X1\nM2\n", "G21\nG0 X1 X2\nM2\n", "(open\nM2\n", "G21\nG0 Z5\n",
          "G21\nG0 G1 X1 F5\nM2\n", "G21 F5\nG0 Z5\nG82 X1 Z-1 R1 P-1\nM2\n"}) {
        EXPECT_NE(outside::read(*folder, program).fault, "") << program;
    }
}

}  // namespace
}  // namespace seatwright::cut
