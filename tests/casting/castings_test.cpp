// Castings with known truth: what earlier heads have taught saves touches, and costs no head any; a casting's
// file carries it from job to job; files that are not this casting's are refused in one sentence.
//
// the whole draw (./check --all) makes the table of docs/castings.md.
#include <gtest/gtest.h>

#include <boost/math/distributions/binomial.hpp>

#include <array>
#include <memory>
#include <random>

#include "draws.hpp"
#include "job_fixtures.hpp"
#include "seatwright/casting/casting.hpp"
#include "seatwright/find/find.hpp"
#include "seatwright/find/learning.hpp"
#include "seatwright/job/casting.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::casting {
namespace {

// A casting: how its guides stand off the drawing in common, and how far one head strays from that.
constexpr double common_sd = 0.11, own_sd = 0.045, touch_sd = 0.01;
// What a pilot's tip has in the mouth, to either side: (8.86 − 8.4)/2.
constexpr double play = 0.23, mouth = 8.86;

struct World {
    job::Job job;
    hold::Hold hold;
    std::vector<Vec2> common;
    std::mt19937_64 random;

    explicit World(unsigned seed) : job(fixtures::with_guides_read(fixtures::wedge_job())), random(seed) {
        job.find.casting_sd = std::hypot(common_sd, own_sd);
        job.find.touch_sd = touch_sd;
        job.find.yaw_sd.reset();
        job.readings.guides.clear();
        for (const auto kind : job::both_kinds) job.guide[kind]->mouth = mouth;
        hold = hold::plan(job);
        for (std::size_t v = 0; v < job.head.valves.size(); ++v) common.push_back(draw(common_sd));
    }
    Vec2 draw(double sd) {
        std::normal_distribution<double> normal(0, sd);
        const double x = normal(random);
        return {x, normal(random)};
    }
    // Where each guide of another head stands on the readout, zeroed on the first.
    std::vector<Vec2> head() {
        const auto& setup = hold.setups.at(0);
        std::normal_distribution<double> yaw(0, 0.002);
        const Mat2 turn = plane_rotation(yaw(random));
        std::vector<Vec2> out;
        for (std::size_t i = 0; i < setup.valves.size(); ++i)
            out.emplace_back(turn * (setup.valves[i].readout + common[setup.valves[i].valve] + draw(own_sd)));
        const Vec2 zero = out[0];
        for (auto& p : out) p -= zero;
        return out;
    }
    void touch(job::Job& of, const std::string& head, const std::vector<Vec2>& at, std::size_t guide) {
        job::Touch t;
        t.head = head;
        t.valve = job.head.valves[hold.setups[0].valves[guide].valve].id;
        t.at = at[guide] + draw(touch_sd);
        t.sd = touch_sd;
        of.readings.touches.push_back(t);
    }
    // All guides of so many heads touched.
    job::Job record(int heads) {
        job::Job out = job;
        out.title = "earlier heads";
        for (int h = 1; h <= heads; ++h) {
            const auto at = head();
            for (std::size_t g = 0; g < at.size(); ++g) touch(out, std::to_string(h), at, g);
        }
        return out;
    }
};

struct Spent {
    int touches = 0;
    int left = 0, strike = 0;  // guides not touched; of them those that truly stand beyond the play
};

// A head touched guide by guide, each the next best, until its pilots enter.
Spent spent_on(World& world, const std::vector<Vec2>& at, std::vector<job::PastHead> past) {
    job::Job job = world.job;
    job.title = "now";
    job.find.past = std::move(past);
    const auto seed = world.random;
    std::vector<bool> touched(at.size());
    std::size_t next = 0;
    Spent out;
    while (true) {
        world.touch(job, "now", at, next);
        touched[next] = true;
        ++out.touches;
        const auto found = find::locate(job, world.hold);
        const auto& setup = found.heads.at(0).setups.at(0);
        if ((setup.least_enter_probability && *setup.least_enter_probability >= job.find.enter_target) ||
            !setup.next_touch) {
            for (std::size_t g = 0; g < at.size(); ++g)
                if (!touched[g]) {
                    ++out.left;
                    out.strike += (setup.guides[g].programmed - at[g]).norm() > play ? 1 : 0;
                }
            break;
        }
        for (std::size_t g = 0; g < at.size(); ++g)
            if (world.hold.setups[0].valves[g].valve == *setup.next_touch) next = g;
    }
    world.random = seed;  // the same errors of touching with and without a record
    return out;
}

int castings_wanted() {
    return drawn(8, 150, 3);
}

// What so many trials, each with at most that chance, do not exceed but once in ten thousand runs of a test.
int most_of(int trials, double chance) {
    if (trials == 0) return 0;
    const boost::math::binomial_distribution<> law(trials, chance);
    return static_cast<int>(std::ceil(boost::math::quantile(boost::math::complement(law, 1e-4))));
}

// Each casting with a record of its own, two more heads of each.
TEST(Castings, TouchesFallWithTheRecordAndNoHeadIsWorseOff) {
    constexpr std::array sizes{0, 1, 5, 20, 100};
    std::array<double, sizes.size()> touches{};
    std::array<int, sizes.size()> left{}, strike{};
    int lost = 0;  // heads taken for another casting's, of the longest records
    const int castings = castings_wanted();
    constexpr int heads = 2;
    for (int c = 0; c < castings; ++c) {
        World world(static_cast<unsigned>(c) + 1);
        std::array<std::vector<job::PastHead>, sizes.size()> past;
        for (std::size_t i = 1; i < sizes.size(); ++i)
            past[i] = find::heads_that_taught(world.record(sizes[i]), world.hold);
        lost += 100 - static_cast<int>(past[4].size());
        for (int h = 0; h < heads; ++h) {
            const auto at = world.head();
            int without = 0;
            for (std::size_t i = 0; i < sizes.size(); ++i) {
                const auto s = spent_on(world, at, past[i]);
                if (i == 0) without = s.touches;
                touches[i] += static_cast<double>(s.touches) / (castings * heads);
                left[i] += s.left;
                strike[i] += s.strike;
                EXPECT_LE(s.touches, without) << "a head is worse off with " << sizes[i] << " on record";
            }
        }
    }
    for (std::size_t i = 0; i < sizes.size(); ++i)
        std::printf("%3d heads on record: %.2f touches a head; of %d guides not touched %d beyond the play\n",
                    sizes[i], touches[i], left[i], strike[i]);
    EXPECT_EQ(touches[1], touches[0]) << "one head teaches nothing of a casting";
    EXPECT_LT(touches[2], touches[0] - 2);
    EXPECT_LT(touches[3], touches[2] + 0.5);
    EXPECT_LT(touches[4], touches[3] + 0.5);
    std::printf("%d of %d heads that belong were taken for another casting's\n", lost, 100 * castings);
    EXPECT_LE(lost, most_of(100 * castings, find::foreign_below));
    // What it saves is not bought with pilots that strike: each guide enters with 0.999 or better.
    for (std::size_t i = 0; i < sizes.size(); ++i) EXPECT_LE(strike[i], most_of(left[i], 0.001)) << sizes[i];
}

TEST(Castings, TheSameHeadTeachesOnce) {
    World world(1);
    auto job = world.record(6);
    const auto past = find::heads_that_taught(job, world.hold);
    ASSERT_EQ(past.size(), 6u);
    job.find.past = past;  // given back to the job it was learned in
    EXPECT_EQ(find::heads_that_taught(job, world.hold).size(), 6u);
    job.title = "another job";  // whose heads have the same names
    const auto both = find::heads_that_taught(job, world.hold);
    EXPECT_EQ(both.size(), 12u);
    for (const char* from : {"earlier heads", "another job"})
        EXPECT_EQ(std::count_if(both.begin(), both.end(), [&](const auto& p) { return p.from == from; }), 6)
            << from;
}

// The example's text with touches of six heads.
const char* description = R"(title = "invented row"
units = "in"
[head]
name = "invented row head"
material = "grey iron"
mass = "18 kg"            # with the plugs in
surveyed = ["head.bolt_holes"]
bolt_holes = [
    [-2, -2],      # u = 0.0008 in
    [2, -2], [6, -2], [10, -2], [-2, 2], [2, 2], [6, 2], [10, 2],
]
bolt_hole_diameter = 0.5
posts = [0, 3]
[head.pattern]
cylinders = 3
bore_spacing = 4
valve = [
    { kind = "exhaust", x = -0.8, y = 0.1, z = -0.3, incline = 15, cant = 0 },
    { kind = "intake", x = "20 mm", y = 0.1, z = -0.3, incline = 15, cant = 0 },
]
[guide.intake]
bore = 0.3437      # u = 0.0002 in
[guide.exhaust]
bore = 0.3437
[fixture]
tilt = ["-30 deg", "30 deg"]
swing = ["0 deg", "0 deg"]
plumb_limit = "0.05 deg"
)";

std::string with_heads(std::string text) {
    std::mt19937_64 random(11);
    std::normal_distribution<double> stray(0, 0.002);
    for (int h = 1; h <= 6; ++h)
        for (int k = 0; k < 3; ++k)
            for (const char* kind : {"E", "I"}) {
                const double x = 4 * k + (kind[0] == 'E' ? 0 : 0.8 + 20 / 25.4);
                text += fmt::format(
                    "[[reading.touch]]\nhead = \"{}\"\nvalve = \"{}{}\"\nx = {:.5f}\ny = {:.5f}\n", h, k + 1,
                    kind, x + stray(random), stray(random));
            }
    return text;
}

job::Fetch of(const std::string& casting) {
    return [casting](const std::string&) -> tl::expected<std::string, std::string> { return casting; };
}

std::string exported_from(const std::string& text, const job::Fetch& fetch = {},
                          const std::string& casting = {}) {
    auto job = job::read_job(text, "row.toml", fetch);
    EXPECT_TRUE(job) << (job ? "" : to_line(job.error()[0]));
    if (!job) return {};
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {});
    const Texts texts{text, casting, "casting.toml"};
    const auto out = exported(run, texts);
    EXPECT_TRUE(out);
    return out ? out->text : std::string();
}

TEST(Castings, AJobTakesFromItWhatItDoesNotSay) {
    const std::string text = with_heads(description);
    const std::string casting = exported_from(text);
    EXPECT_NE(casting.find("[-2, -2],  # u = 0.0008 in"), std::string::npos) << casting.substr(0, 1500);
    EXPECT_NE(casting.find("x = \"20 mm\""), std::string::npos);
    EXPECT_NE(casting.find("# with the plugs in"), std::string::npos);
    EXPECT_NE(casting.find("[[casting.learned]]"), std::string::npos);
    const std::string short_job =
        "title = \"next\"\nunits = \"mm\"\ncasting = \"row.casting\"\n"
        "[head]\nmass = \"19 kg\"\n[fixture]\ntilt = [\"-30 deg\", \"30 deg\"]\n"
        "swing = [\"0 deg\", \"0 deg\"]\nplumb_limit = \"0.05 deg\"\n";
    const auto job = job::read_job(short_job, "next.toml", of(casting));
    ASSERT_TRUE(job) << to_line(job.error()[0]);
    const auto whole = job::read_job(text, "row.toml", {});
    ASSERT_TRUE(whole);
    ASSERT_EQ(job->head.valves.size(), 6u);
    for (std::size_t v = 0; v < 6; ++v)
        EXPECT_LT((job->head.valves[v].seat - whole->head.valves[v].seat).norm(), 1e-9);
    EXPECT_EQ(job->head.name, "invented row head");
    EXPECT_EQ(job->head.posts, whole->head.posts);
    EXPECT_NEAR(*job->head.mass, 19, 1e-12);
    EXPECT_NEAR(*job->guide.intake->bore, 0.3437 * 25.4, 1e-9);
    EXPECT_EQ(job->find.past.size(), 6u);
    const auto held = hold::plan(*job);
    const auto from = [&](const std::string& what) {
        for (const auto& input : held.inputs)
            if (input.what == what) return input.from;
        return hold::From::made_up;
    };
    EXPECT_EQ(from("head.mass"), hold::From::job);
    EXPECT_EQ(from("head.bolt_holes[3].x"), hold::From::casting);
    EXPECT_EQ(from("head.valve.1I.incline"), hold::From::casting);
    EXPECT_EQ(from("guide.exhaust.bore"), hold::From::casting);
    // In the job it was read in it is the survey's.
    const auto own = hold::plan(*whole);
    for (const auto& input : own.inputs)
        if (input.what == "head.bolt_holes[3].x") {
            EXPECT_EQ(input.from, hold::From::survey);
        }
    // Handed on from the short job it says the same, and its record stays.
    const auto again = exported_from(short_job, of(casting), casting);
    const auto third = job::read_job(short_job, "third.toml", of(again));
    ASSERT_TRUE(third) << to_line(third.error()[0]);
    EXPECT_EQ(third->find.past.size(), 6u);
    EXPECT_LT((third->head.valves[5].seat - whole->head.valves[5].seat).norm(), 1e-9);
    EXPECT_NEAR(third->find.past[2].off[1].x(), job->find.past[2].off[1].x(), 1e-9);
}

TEST(Castings, FilesThatDoNotFitAreOneSentenceEach) {
    const std::string casting = exported_from(description);
    const auto refused = [&](std::string file, const std::string& job, const std::string& says) {
        const auto read = job::read_job(job, "next.toml", of(file));
        ASSERT_FALSE(read) << says;
        ASSERT_EQ(read.error().size(), 1u) << to_line(read.error()[0]) << "\n" << to_line(read.error()[1]);
        EXPECT_NE(to_line(read.error()[0]).find(says), std::string::npos) << to_line(read.error()[0]);
    };
    const std::string job = "title = \"next\"\nunits = \"mm\"\ncasting = \"row.casting\"\n";
    auto newer = casting;
    newer.replace(newer.find("form = 1"), 8, "form = 2\nsomething_new = 4");
    refused(newer, job, "newer program");
    const std::string four =
        "[head.pattern]\ncylinders = 4\nbore_spacing = 100\nvalve = [ { kind = \"intake\", x = 20 }, "
        "{ kind = \"exhaust\", x = -20 } ]\n";
    refused(casting, job + four, "another casting's");
    refused("units = \"mm\"\n[head]\nname = \"x\"\n", job, "casting: is missing");
    refused(
        casting +
            "\n[[casting.past]]\nhead = \"1\"\nvalves = [\"1I\"]\nx = [0.1, 0.2]\ny = [0.1]\nsd = [0.1]\n",
        job, "of each valve one is wanted");
    const auto none =
        job::read_job(job, "next.toml", [](const std::string&) -> tl::expected<std::string, std::string> {
            return tl::unexpected(std::string("there is no such file"));
        });
    ASSERT_FALSE(none);
    EXPECT_NE(to_line(none.error()[0]).find("cannot be read: there is no such file"), std::string::npos);
}

}  // namespace
}  // namespace seatwright::casting
