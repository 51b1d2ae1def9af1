// Every fixture of the shelf judged: what speaks against it, and the best of those that fit.
#include "seatwright/hold/fixture_choice.hpp"

#include <gtest/gtest.h>

#include "job_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright {
namespace {

job::Fixture named(job::Fixture fixture, const std::string& name) {
    fixture.name = name;
    return fixture;
}

std::vector<hold::FixtureVerdict> judged(const job::Job& job) {
    std::vector<Vec3> axes;
    for (const auto& valve : job.head.valves) axes.push_back(valve.axis());
    return hold::judge_fixtures(
        job, hold::plan_setups(axes, hold::reach_of(job.fixture), job.fixture.plumb_limit));
}

TEST(HoldFixtures, EachReasonIsGiven) {
    auto job = fixtures::pent_roof_job();
    job.head.layout = "pent roof";
    job.head.mass = 30;
    const job::Fixture plain = job.fixture;
    job.fixtures = {named(plain, "plain"), named(plain, "short"), named(plain, "stiff"),
                    named(plain, "light"), named(plain, "other"), named(plain, "thick"),
                    named(plain, "second")};
    job.fixtures[1].post_span = job::Range{50, 200};
    job.fixtures[2].tilt = {rad(-5), rad(50)};
    job.fixtures[3].mass_max = 25;
    job.fixtures[4].suits = {"wedge"};
    job.fixtures[5].post_diameter = 14;
    const auto verdicts = judged(job);
    ASSERT_EQ(verdicts.size(), 7u);
    const auto says = [&](std::size_t k, const char* words) {
        return spoken(verdicts[k].why).find(words) != std::string::npos;
    };
    EXPECT_TRUE(verdicts[0].fits && verdicts[0].best && says(0, "best: "));
    EXPECT_TRUE(!verdicts[1].fits && says(1, "posts")) << spoken(verdicts[1].why);
    EXPECT_TRUE(!verdicts[2].fits && says(2, "plumb") && says(2, "1I")) << spoken(verdicts[2].why);
    EXPECT_TRUE(!verdicts[3].fits && says(3, "kg")) << spoken(verdicts[3].why);
    EXPECT_TRUE(!verdicts[4].fits && says(4, "made for wedge")) << spoken(verdicts[4].why);
    EXPECT_TRUE(!verdicts[5].fits && says(5, "do not enter")) << spoken(verdicts[5].why);
    EXPECT_TRUE(verdicts[6].fits && !verdicts[6].best && says(6, "plain")) << spoken(verdicts[6].why);
}

TEST(HoldFixtures, FewerSetupsWin) {
    auto job = fixtures::wedge_job(2, 112, 20);
    for (auto& v : job.head.valves) v.cant = rad(v.kind == job::Kind::intake ? 0.5 : -0.5);
    auto loose = named(job.fixture, "loose");
    loose.plumb_limit = rad(1);
    auto swinging = named(job.fixture, "swinging");
    swinging.swing = {rad(-10), rad(10)};
    job.fixture = swinging;
    job.fixtures = {swinging, loose};
    const auto verdicts = judged(job);
    EXPECT_TRUE(verdicts[1].best);
    const auto warnings = hold::fixture_warnings(job, verdicts);
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_EQ(warnings[0].code, "better-fixture");
    EXPECT_EQ(warnings[0].severity, Severity::note);
}

TEST(HoldFixtures, AChoiceTheHeadDoesNotGoOnIsBlocking) {
    auto job = fixtures::wedge_job(4, 112);
    job.fixture.mass_max = 15;
    job.fixtures = {job.fixture};
    const auto warnings = hold::fixture_warnings(job, judged(job));
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_EQ(warnings[0].severity, Severity::blocking);
}

}  // namespace
}  // namespace seatwright
