// Being right: shops made up at random whose true scatters are known, forecasts from the record of their
// first heads, and how often the limits of the pass rate hold the rate that the shop then has.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <random>

#include "draws.hpp"
#include "seatwright/forecast/forecast.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/plan/run.hpp"
#include "share.hpp"

namespace seatwright::forecast {
namespace {

struct Shop {
    double level_sd, guide_angle_sd, width_sd, depth_sd;  // deg, deg, mm, mm
};

constexpr int guides = 4;
constexpr double gauge_u = 0.002;

std::string job_text(const std::string& forecast, const std::string& readings) {
    std::string valves;
    for (int i = 0; i < guides; ++i)
        valves += fmt::format(
            "[[head.valve]]\nid = \"{}I\"\ncylinder = {}\nkind = \"intake\"\nx = {}\ny = 0\nz = 0\nincline = "
            "0\n"
            "cant = 0\n",
            i + 1, i + 1, 90 * i);
    return fmt::format(R"(title = "a shop"
units = "mm"
[head]
name = "h"
material = "grey iron"
mass = "20 kg"
bolt_holes = [[-50, 0], [350, 0]]
bolt_hole_diameter = 13
{}
[valve.intake]
head_diameter = 50
[seat.intake]
angle = 45
width = 1.5
contact_diameter = 49
runout_max = 0.05
width_tol = 0.07
stem_height = 50
[guide.intake]
bore = 10
length = 50
mouth = 11
to_seat = 50
[find]
touch_sd = 0.01
casting_sd = 0.05
positioning_sd = 0.01
[machine]
resolution = 0.001
[fixture]
tilt = ["-30 deg", "30 deg"]
swing = ["0 deg", "0 deg"]
post_diameter = 12.9
[[pilot]]
name = "p"
style = "live"
diameter = 10
free_length = 60
tip = 10
[depth]
to = "height"
stem_spread = 0.12
[cut]
first_stop = false
[forecast]
heads = 40
touches = 0
zero_sd = 0.01
pilot_runout = 0.004
depth_wear = 0
width_wear = 0
{}
{}
)",
                       valves, forecast, readings);
}

Forecast forecast_of(const std::string& text, bool limits) {
    auto read = job::read_job(text, "shop.toml", {});
    if (!read) {
        for (const auto& fault : read.error()) ADD_FAILURE() << to_line(fault);
        return {};
    }
    const job::Job job = std::move(*read);
    plan::Run run(std::shared_ptr<const job::Job>(std::shared_ptr<const job::Job>(), &job), {});
    Asked asked;
    asked.changes = false;
    asked.limits = limits;
    return forecast(job, run.plan(), run.proof(), asked);
}

// What the first heads of the shop leave on record.
std::string record_of(const Shop& shop, int heads, std::mt19937_64& random) {
    std::normal_distribution<double> normal;
    std::string out;
    for (int h = 1; h <= heads; ++h) {
        const double along = shop.level_sd * normal(random), across = shop.level_sd * normal(random);
        for (int i = 0; i < guides; ++i)
            for (const auto& [axis, head] : {std::pair("incline", along), std::pair("cant", across)}) {
                const double lean = head + shop.guide_angle_sd * normal(random);
                out += fmt::format(
                    "[[reading.level]]\nhead = \"{}\"\nvalve = \"{}I\"\nacross = \"{}\"\nfirst = \"{:.9f} "
                    "deg\"\n"
                    "second = \"{:.9f} deg\"\n",
                    h, i + 1, axis, lean, -lean);
            }
        for (int i = 0; i < guides; ++i)
            out += fmt::format(
                "[[reading.proof]]\nhead = \"{}\"\nvalve = \"{}I\"\nwidth = [{:.9f}]\ngauge_u = {}\nby = "
                "\"x\"\n",
                h, i + 1, 1.5 + std::hypot(shop.width_sd, gauge_u) * normal(random), gauge_u);
    }
    return out;
}

std::string keys(const Shop& shop, bool all) {
    std::string out = fmt::format("depth_sd = {:.9f}\n", shop.depth_sd);
    if (all)
        out += fmt::format("level_sd = \"{:.9f} deg\"\nguide_angle_sd = \"{:.9f} deg\"\nwidth_sd = {:.9f}\n",
                           shop.level_sd, shop.guide_angle_sd, shop.width_sd);
    return out;
}

struct Held {
    int below = 0, above = 0, shops = 0;
};

Held held(int heads, int shops, std::uint64_t seed) {
    Held out;
    for (int n = 0; n < shops; ++n) {
        std::mt19937_64 random(seed + 1000003ULL * static_cast<std::uint64_t>(n));
        std::uniform_real_distribution<double> even(0, 1);
        const Shop shop{0.008 + 0.012 * even(random), 0.01 + 0.015 * even(random),
                        0.015 + 0.015 * even(random), 0.01 + 0.01 * even(random)};
        const Forecast truth = forecast_of(job_text(keys(shop, true), ""), false);
        const Forecast made = forecast_of(job_text(keys(shop, false), record_of(shop, heads, random)), true);
        if (!truth.pass_rate || !made.pass_low || !made.pass_high) {
            ADD_FAILURE() << "nothing was said";
            return out;
        }
        out.below += *truth.pass_rate < *made.pass_low - 1e-6 ? 1 : 0;
        out.above += *truth.pass_rate > *made.pass_high + 1e-6 ? 1 : 0;
        ++out.shops;
    }
    std::printf("first %d heads, %d shops: held %.3f (too low %d, too high %d)\n", heads, out.shops,
                1 - static_cast<double>(out.below + out.above) / out.shops, out.below, out.above);
    return out;
}

TEST(Coverage, LimitsHoldTheShopsOwnRate) {
    for (const int heads : {3, 10, 30}) {
        const Held of = held(heads, drawn(67, 1667, 17), 7000 + static_cast<std::uint64_t>(heads));
        expect_share(static_cast<std::size_t>(of.shops - of.below - of.above),
                     static_cast<std::size_t>(of.shops), 0.93, 0.97, "limits");
    }
}

}  // namespace
}  // namespace seatwright::forecast
