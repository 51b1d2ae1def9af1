// What is asked of a forecast that knows little, or contradictory things: what can be said is said, the rest
// is not known, and no figure is ever anything but a finite number.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <cmath>

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/plan/run.hpp"

namespace seatwright::forecast {
namespace {

struct Given {
    const char* name;
    std::string seat, find, forecast, more;
};

std::string text_of(const Given& g) {
    return fmt::format(R"(title = "a case"
units = "mm"
[head]
name = "h"
material = "grey iron"
mass = "20 kg"
bolt_holes = [[-50, 0], [350, 0]]
bolt_hole_diameter = 13
[[head.valve]]
id = "1I"
cylinder = 1
kind = "intake"
x = 0
y = 0
z = 0
incline = 0
cant = 0
[[head.valve]]
id = "2I"
cylinder = 2
kind = "intake"
x = 100
y = 0
z = 0
incline = 0
cant = 0
[valve.intake]
head_diameter = 50
[seat.intake]
angle = 45
width = 1.5
contact_diameter = 49
{}
[guide.intake]
bore = 10
length = 50
mouth = 10.6
to_seat = 50
[find]
{}
[machine]
resolution = 0.001
[fixture]
tilt = ["-30 deg", "30 deg"]
swing = ["0 deg", "0 deg"]
post_diameter = 12.8
[[pilot]]
name = "p"
style = "live"
diameter = 10
free_length = 60
tip = 10
[forecast]
{}
{}
)",
                       g.seat, g.find, g.forecast, g.more);
}

tl::expected<Forecast, std::string> forecast_of(const Given& g, std::optional<std::uint64_t> draws = {}) {
    auto read = job::read_job(text_of(g), "case.toml", {});
    if (!read) return tl::unexpected(read.error().front().text);
    const job::Job job = std::move(*read);
    plan::Run run(std::shared_ptr<const job::Job>(std::shared_ptr<const job::Job>(), &job), {});
    Asked asked;
    asked.draws = draws;
    asked.threads = 2;
    return forecast(job, run.plan(), run.proof(), asked);
}

void expect_share(const std::optional<double>& p, const std::string& what) {
    if (!p) return;
    EXPECT_TRUE(std::isfinite(*p)) << what;
    EXPECT_GE(*p, 0) << what;
    EXPECT_LE(*p, 1) << what;
}

void expect_sound(const Forecast& f) {
    expect_share(f.pass_rate, "pass rate");
    expect_share(f.pass_low, "pass_low");
    expect_share(f.pass_high, "pass_high");
    expect_share(f.pass_error, "pass_error");
    if (f.pass_rate && f.pass_low && f.pass_high) {
        EXPECT_LE(*f.pass_low, *f.pass_rate);
        EXPECT_GE(*f.pass_high, *f.pass_rate);
    }
    if (f.verdict) {
        expect_share(f.verdict->pass, "pass");
        expect_share(f.verdict->fail, "fail");
        expect_share(f.verdict->undecided, "undecided");
    }
    if (f.risk) {
        expect_share(f.risk->consumer, "consumer");
        expect_share(f.risk->producer, "producer");
    }
    for (const double p : f.by_head) expect_share(p, "by head");
    double shares = 0;
    for (const Cause& cause : f.causes) {
        expect_share(cause.share, cause.cause);
        shares += cause.share;
    }
    EXPECT_NEAR(shares, f.causes.empty() ? 0 : 1, 1e-9);
    for (const Change& change : f.changes) {
        expect_share(change.pass_rate, change.what);
        EXPECT_TRUE(std::isfinite(change.gain) && std::isfinite(change.gain_low) &&
                    std::isfinite(change.gain_high))
            << change.what;
    }
    for (const Characteristic& c : f.characteristics) {
        for (const auto& figure : {c.mean, c.p05, c.p50, c.p95, c.cpk})
            EXPECT_TRUE(!figure || std::isfinite(*figure)) << c.what;
        EXPECT_TRUE(std::isfinite(c.sd)) << c.what;
        expect_share(c.pass_rate, c.what);
        for (const auto& bar : c.bars) EXPECT_TRUE(std::isfinite(bar.share)) << c.what;
    }
    for (const Input& input : f.inputs) EXPECT_TRUE(std::isfinite(input.value)) << input.what;
}

const std::string limits = "runout_max = 0.05\nwidth_tol = 0.08\nstem_height = 50\nstem_height_max = 50.2\n";
const std::string gauges = "gauge_u = 0.002\nwidth_gauge_u = 0.01\nheight_gauge_u = 0.005\n";
const std::string still =
    "level_sd = 0\nguide_angle_sd = 0\nheight_sd = 0\nzero_sd = 0\ndepth_sd = 0\nwidth_sd = 0\npilot_runout "
    "= 0\n";
const std::string spread = "[depth]\nstem_spread = 0.1\n";

std::vector<Given> all_given() {
    return {
        {"nothing but the head", "", "", "", ""},
        {"no gauge", limits, "", "", spread},
        {"no limits", "", "", gauges, ""},
        {"all known", limits, "", gauges, spread},
        {"zero sds", limits, "casting_sd = 0\npositioning_sd = 0\n", still + gauges, spread},
        {"zero sds, no limits", "", "casting_sd = 0\npositioning_sd = 0\n", still, ""},
        {"gauges that know everything", limits, "", "gauge_u = 0\nwidth_gauge_u = 0\nheight_gauge_u = 0\n",
         spread},
        {"a gauge coarser than the limit", limits, "", "gauge_u = 1\nwidth_gauge_u = 1\nheight_gauge_u = 1\n",
         spread},
        {"one head", limits, "", gauges + "heads = 1\n", spread},
        {"a blade changed later than the batch ends", limits, "", gauges + "heads = 5\nchange_every = 90\n",
         spread},
        {"more touches than guides", limits, "", gauges + "touches = 50\n", spread},
        {"zeroed anew on every head and not touched", limits, "", gauges + "touches = 0\nrezero = true\n",
         spread},
        {"limits that contradict the plan",
         "runout_max = 0.05\nwidth_tol = 0.08\nstem_height = 51\nstem_height_max = 50.2\n", "", gauges,
         spread},
        {"a spread of nothing", limits, "", gauges, "[depth]\nstem_spread = 0\n"},
        {"a limit of nothing", "runout_max = 0\nwidth_tol = 0\n", "", gauges, ""},
        {"wear that eats the limit at once", limits, "", gauges + "depth_wear = 0.5\nwidth_wear = -0.5\n",
         spread},
        {"sds beyond all measure", limits, "casting_sd = 50\npositioning_sd = 50\n",
         gauges + "level_sd = \"20 deg\"\nwidth_sd = 40\ndepth_sd = 40\n", spread},
        {"one head on record", limits, "", gauges,
         spread +
             "[[reading.level]]\nhead = \"1\"\nvalve = \"1I\"\nacross = \"incline\"\nfirst = \"0.02 deg\"\n"
             "[[reading.touch]]\nhead = \"1\"\nvalve = \"1I\"\nx = 0\ny = 0\n"
             "[[reading.proof]]\nhead = \"1\"\nvalve = \"1I\"\nrunout = 0.02\nwidth = [1.51]\nby = \"x\"\n"},
        {"a gauge that no shelf has", limits, "", "",
         spread +
             "[[reading.proof]]\nhead = \"1\"\nvalve = \"1I\"\nrunout = 0.02\nwidth = [1.51]\nby = \"x\"\n"
             "gauge = { runout = \"lost\", width = \"lost too\" }\n"},
        {"gauges that state nothing, or a step alone", limits, "", "",
         spread + "[[gauge]]\nname = \"silent\"\n[[gauge]]\nname = \"coarse\"\nreads = [\"width\"]\nstep = "
                  "0.05\n"},
        {"gauges of the shelf that err by nothing and by more than the limit", limits, "", gauges,
         spread + "[[gauge]]\nname = \"true\"\nu = 0\n[[gauge]]\nname = \"blunt\"\nu = 5\n"},
        {"two heads all alike", limits, "", gauges,
         spread +
             "[[reading.proof]]\nhead = \"1\"\nvalve = \"1I\"\nrunout = 0.02\nwidth = [1.5]\nby = \"x\"\n"
             "[[reading.proof]]\nhead = \"2\"\nvalve = \"1I\"\nrunout = 0.02\nwidth = [1.5]\nby = \"x\"\n"
             "[[reading.proof]]\nhead = \"3\"\nvalve = \"1I\"\nrunout = 0.02\nwidth = [1.5]\nby = \"x\"\n"},
    };
}

TEST(BadInput, EveryFigureIsFiniteOrNotKnown) {
    for (const Given& given : all_given()) {
        SCOPED_TRACE(given.name);
        const auto said = forecast_of(given);
        if (!said) {  // a fault of its own is a sentence
            EXPECT_FALSE(said.error().empty());
            continue;
        }
        expect_sound(*said);
        const auto drawn = forecast_of(given, 5000);
        ASSERT_TRUE(drawn);
        expect_sound(*drawn);
        if (said->pass_rate && drawn->pass_rate) {
            const double p = *said->pass_rate;
            EXPECT_NEAR(*drawn->pass_rate, p,
                        5 * std::sqrt(std::max(p * (1 - p), 2e-4) / 5000) + *said->pass_error);
        }
        EXPECT_EQ(said->verdict.has_value(), said->risk.has_value());
    }
}

TEST(BadInput, FaultsSayWhatIsWrong) {
    for (const Given& given : {Given{"a negative sd", limits, "", "level_sd = \"-0.1 deg\"\n", ""},
                               Given{"no heads", limits, "", "heads = 0\n", ""},
                               Given{"half a touch", limits, "", "touches = 1.5\n", ""},
                               Given{"a blade never put in", limits, "", "change_every = 0\n", ""},
                               Given{"a share above all", limits, "", "share = 1.5\n", ""},
                               Given{"an unknown key", limits, "", "levels_sd = 0.1\n", ""},
                               Given{"no number", limits, "", "width_sd = nan\n", ""}}) {
        const auto said = forecast_of(given);
        EXPECT_FALSE(said) << given.name;
    }
}

}  // namespace
}  // namespace seatwright::forecast
