// What helps most: each change is what a job that says so from the start would give, its limits hold that,
// and what it costs stands beside it. Inputs invented; answers by the forecast of the changed job (whose own
// figures the other tests hold against closed forms), or a closed form.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "small_job.hpp"

namespace seatwright::forecast {
namespace {

using test::Figures;

// Four guides 100 apart, two kinds of nothing: one kind, everything that counts for it, and a shelf.
const std::string fixtures =
    "[[fixture]]\nname = \"tight posts\"\ntilt = [\"-30 deg\", \"30 deg\"]\nswing = [\"0 deg\", \"0 deg\"]\n"
    "post_diameter = 12.9\n"
    "[[fixture]]\nname = \"loose posts\"\ntilt = [\"-30 deg\", \"30 deg\"]\nswing = [\"0 deg\", \"0 deg\"]\n"
    "post_diameter = 12.2\n"
    "[[fixture]]\nname = \"too thick\"\ntilt = [\"-30 deg\", \"30 deg\"]\nswing = [\"0 deg\", \"0 deg\"]\n"
    "post_diameter = 13.5\n"
    "[rates]\ncurrency = \"EUR\"\nhead = 100\n";

Figures whole_job() {
    Figures f;
    f.valves = test::guide("1I", -150, 0) + test::guide("2I", -50, 0) + test::guide("3I", 50, 0) +
               test::guide("4I", 150, 0);
    f.clearance = 0.5;
    f.style = "parallel";
    f.mouth = 10.7;
    f.stiffness = test::float_for(0.15);
    f.seat = "runout_max = 0.06\nwidth_tol = 0.08\nstem_height = 50\nstem_height_max = 50.08\n";
    f.find = "casting_sd = 0.05\npositioning_sd = 0.03\n";
    f.forecast =
        "heads = 30\ntouches = 1\nlevel_sd = 0.015\nguide_angle_sd = 0.02\nheight_sd = 0.015\nzero_sd = "
        "0.02\n"
        "depth_sd = 0.012\ndepth_wear = 0.0003\nwidth_sd = 0.03\nwidth_wear = 0.0006\npilot_runout = 0.008\n"
        "gauge_u = 0.004\nwidth_gauge_u = 0.01\nheight_gauge_u = 0.006\n";
    f.more = "[depth]\nstem_spread = 0.12\n";
    return f;
}

Forecast of(const Figures& f, const Asked& asked = {}) {
    auto read = job::read_job("shop = \"shop.toml\"\n" + test::job_text(f), "case.toml",
                              [](const std::string&) { return fixtures; });
    if (!read) {
        for (const auto& fault : read.error()) ADD_FAILURE() << to_line(fault);
        return {};
    }
    const job::Job job = std::move(*read);
    plan::Run run(std::shared_ptr<const job::Job>(std::shared_ptr<const job::Job>(), &job), {});
    return forecast(job, run.plan(), run.proof(), asked);
}

const Change* change_of(const Forecast& f, const std::string& what, const std::optional<Setting>& to = {}) {
    const auto at = std::find_if(f.changes.begin(), f.changes.end(),
                                 [&](const Change& c) { return c.what == what && (!to || c.to == *to); });
    return at == f.changes.end() ? nullptr : &*at;
}

double rate_of(const Figures& f) {
    const Forecast out = of(f, test::quick());
    return out.pass_rate.value_or(-1);
}

void replace(std::string& in, const std::string& what, const std::string& by) {
    const auto at = in.find(what);
    ASSERT_NE(at, std::string::npos) << what;
    in.replace(at, what.size(), by);
}

// A change is worked out on common places, to 3e-5 each way; the limits of its gain hold what the changed job
// gives.
void expect_same(const Forecast& base, const Change* change, double changed, const std::string& what) {
    ASSERT_TRUE(change) << what;
    const double gain = changed - *base.pass_rate;
    EXPECT_NEAR(change->pass_rate, changed, 2e-4) << what;
    EXPECT_NEAR(change->gain, gain, 1e-4) << what;
    EXPECT_LE(change->gain_low, change->gain) << what;
    EXPECT_GE(change->gain_high, change->gain) << what;
    EXPECT_GE(change->gain, gain - 1e-5 - (change->gain_high - change->gain)) << what;
    EXPECT_LE(change->gain, gain + 1e-5 + (change->gain - change->gain_low)) << what;
    EXPECT_LT(change->gain_high - change->gain_low, 4e-4) << what << ": limits that say something";
    EXPECT_EQ(change->significant, change->gain_low > 0) << what;
}

TEST(Changes, OfEachFigureHalvedAreWhatTheHalvedKeyGives) {
    const Figures f = whole_job();
    const Forecast base = of(f);
    ASSERT_TRUE(base.pass_rate && base.verdict);
    struct Halved {
        const char *what, *key, *half;
        bool find;
    };
    for (const auto& [what, key, half, find] :
         {Halved{"casting scatter", "casting_sd = 0.05", "casting_sd = 0.025", true},
          Halved{"positioning", "positioning_sd = 0.03", "positioning_sd = 0.015", true},
          Halved{"attitude", "level_sd = 0.015", "level_sd = 0.0075", false},
          Halved{"guide direction", "guide_angle_sd = 0.02", "guide_angle_sd = 0.01", false},
          Halved{"old height", "height_sd = 0.015", "height_sd = 0.0075", false},
          Halved{"Z zero", "zero_sd = 0.02", "zero_sd = 0.01", false},
          Halved{"depth", "depth_sd = 0.012", "depth_sd = 0.006", false},
          Halved{"depth wear", "depth_wear = 0.0003", "depth_wear = 0.00015", false},
          Halved{"width", "width_sd = 0.03", "width_sd = 0.015", false},
          Halved{"width wear", "width_wear = 0.0006", "width_wear = 0.0003", false},
          Halved{"pilot runout", "pilot_runout = 0.008", "pilot_runout = 0.004", false}}) {
        Figures other = f;
        replace(find ? other.find : other.forecast, key, half);
        const Change* change = change_of(base, what);
        expect_same(base, change, rate_of(other), what);
        EXPECT_FALSE(change && change->cost) << what << ": nobody knows what half of it costs";
    }
    Figures tighter = f;
    tighter.clearance = 0.25;
    expect_same(base, change_of(base, "post clearance"), rate_of(tighter), "post clearance");
    // Best first.
    EXPECT_TRUE(std::is_sorted(base.changes.begin(), base.changes.end(),
                               [](const Change& a, const Change& b) { return a.gain > b.gain; }));
}

TEST(Changes, OfPostsAreWhatTheOtherPostsGiveAndAreSetOnce) {
    const Figures f = whole_job();
    const Forecast base = of(f);
    for (const double post : {12.9, 12.2}) {
        Figures other = f;
        other.clearance = 13 - post;
        const Change* change = change_of(base, "post diameter", Setting(post));
        expect_same(base, change, rate_of(other), "posts of " + std::to_string(post));
        ASSERT_TRUE(change && change->cost);
        EXPECT_TRUE(change->cost->once);
        EXPECT_GT(change->cost->seconds_once, 0);
        EXPECT_EQ(change->cost->seconds_head, 0);
        EXPECT_EQ(change->from, Setting(12.5));
    }
    EXPECT_FALSE(change_of(base, "post diameter", Setting(13.5))) << "posts that do not go into the holes";
    EXPECT_GT(change_of(base, "post diameter", Setting(12.9))->gain_low, 0);
    EXPECT_LT(change_of(base, "post diameter", Setting(12.2))->gain_high, 0);
}

TEST(Changes, OfOneMoreTouchCostSecondsOnEveryHead) {
    const Figures f = whole_job();
    const Forecast base = of(f);
    Figures other = f;
    replace(other.forecast, "touches = 1", "touches = 2");
    const Change* change = change_of(base, "touches");
    expect_same(base, change, rate_of(other), "touches");
    ASSERT_TRUE(change && change->cost);
    EXPECT_FALSE(change->cost->once);
    EXPECT_GT(change->cost->seconds_head, 0);
    EXPECT_EQ(change->to, Setting(2.0));
    EXPECT_GT(change->gain_low, 0);
    // All of them touched: there is no more to touch.
    replace(other.forecast, "touches = 2", "touches = 4");
    EXPECT_FALSE(change_of(of(other), "touches"));
}

TEST(Changes, OfTheBladeSoonerAreWhatTheKeyGives) {
    const Figures f = whole_job();
    const Forecast base = of(f);
    Figures other = f;
    other.forecast += "change_every = 15\n";
    const Change* change = change_of(base, "blade changed every");
    expect_same(base, change, rate_of(other), "blade");
    ASSERT_TRUE(change && change->cost);
    // One change more in thirty heads, 300 s (common practice, from memory).
    EXPECT_NEAR(change->cost->seconds_head, 300.0 / 30, 1e-9);
    EXPECT_GT(change->gain_low, 0);
}

// Another pilot that suits every guide of the kind: looser, with a finer tip.
TEST(Changes, OfPilotsAreWhatTheOtherPilotGives) {
    Figures f = whole_job();
    const auto pilot = [](const char* name, double diameter, double tip) {
        return fmt::format(
            "[[pilot]]\nname = \"{}\"\nstyle = \"parallel\"\ndiameter = {}\nfree_length = 60\ntip = {}\n",
            name, diameter, tip);
    };
    f.mouth = 10.3;  // entering decides
    Figures both = f;
    both.more += pilot("fine tip", 9.995, 9.6);
    const Forecast base = of(both);
    const Change* change = change_of(base, "intake pilot");
    ASSERT_TRUE(change);
    EXPECT_EQ(change->from, Setting(std::string("p")));
    EXPECT_EQ(change->to, Setting(std::string("fine tip")));
    Figures other = f;
    other.pilot = 9.995;
    other.tip = 9.6;
    expect_same(base, change, rate_of(other), "pilot");
    ASSERT_TRUE(change->cost);
    EXPECT_TRUE(change->cost->once);
    EXPECT_GT(change->gain_low, 0);
    // One that does not go into the guide is no alternative.
    Figures thick = f;
    thick.more += pilot("too thick", 10.2, 9.6);
    EXPECT_FALSE(change_of(of(thick), "intake pilot"));
}

// Costs at the shop's rates: what a second of a head is worth, times the seconds.
TEST(Changes, CostWhatTheShopAsksForAHead) {
    const Forecast base = of(whole_job());
    for (const Change& change : base.changes) {
        if (!change.cost) continue;
        const double seconds =
            change.cost->once ? change.cost->seconds_once : change.cost->seconds_head * base.heads;
        if (!change.cost->amount) continue;
        EXPECT_EQ(change.cost->currency, "EUR");
        EXPECT_GE(*change.cost->amount, 0) << change.what;
        EXPECT_EQ(*change.cost->amount > 0, seconds > 0) << change.what;
    }
    const Change *touch = change_of(base, "touches"), *posts = change_of(base, "post diameter");
    ASSERT_TRUE(touch && posts && touch->cost && posts->cost);
    if (touch->cost->amount && posts->cost->amount) {
        EXPECT_NEAR(*touch->cost->amount / *posts->cost->amount,
                    touch->cost->seconds_head * base.heads / posts->cost->seconds_once, 1e-9);
    }
}

}  // namespace
}  // namespace seatwright::forecast
