#include "seatwright/hold/fixture_choice.hpp"

#include <algorithm>
#include <deque>

#include "seatwright/hold/posts.hpp"
#include "seatwright/words/english_hold.hpp"

namespace seatwright::hold {

namespace {

struct Judged {
    std::vector<Sentence> against;
    std::vector<Sentence> mechanical;  // of those, what keeps the head off the fixture
    std::vector<Sentence> in_favour;
    std::size_t setups = 0;
    double worst = 0;
};

void object(Judged& judged, Sentence why) {
    judged.against.push_back(why);
    judged.mechanical.push_back(std::move(why));
}

void judge_posts(Judged& judged, const job::Job& job, const job::Fixture& fixture) {
    const auto posts = posts_of(job.head, fixture);
    if (!posts) return;
    if (fixture.post_span) {
        const auto text = sentence<"posts-apart">("span"_is = as_place(posts->span),
                                                  "low"_is = as_place(fixture.post_span->low),
                                                  "high"_is = as_place(fixture.post_span->high));
        const job::Range eased{fixture.post_span->low - span_tie, fixture.post_span->high + span_tie};
        if (eased.contains(posts->span))
            judged.in_favour.push_back(text);
        else
            object(judged, text);
    }
    if (posts->clearance && *posts->clearance < 0)
        object(judged, sentence<"posts-too-thick">("posts"_is = as_place(*fixture.post_diameter),
                                                   "holes"_is = as_place(*job.head.bolt_hole_diameter)));
}

// The setups of the fixtures already asked about: those that reach alike are planned once.
class Plans {
  public:
    Plans(const job::Job& job, const SetupPlan& own, std::size_t fixtures)
        : work_(setup_work / static_cast<long>(std::max<std::size_t>(fixtures, 1))) {
        for (const auto& valve : job.head.valves) axes_.push_back(valve.axis());
        known_.push_back({job.fixture, own});
    }
    const std::vector<Vec3>& axes() const { return axes_; }
    const SetupPlan& of(const job::Fixture& fixture) {
        const auto alike = [&](const Known& k) {
            return k.fixture.tilt.low == fixture.tilt.low && k.fixture.tilt.high == fixture.tilt.high &&
                   k.fixture.swing.low == fixture.swing.low && k.fixture.swing.high == fixture.swing.high &&
                   k.fixture.plumb_limit == fixture.plumb_limit;
        };
        const auto at = std::find_if(known_.begin(), known_.end(), alike);
        if (at != known_.end()) return at->plan;
        known_.push_back({fixture, plan_setups(axes_, reach_of(fixture), fixture.plumb_limit, work_)});
        return known_.back().plan;
    }

  private:
    struct Known {
        job::Fixture fixture;
        SetupPlan plan;
    };
    long work_;
    std::vector<Vec3> axes_;
    std::deque<Known> known_;
};

void judge_reach(Judged& judged, const job::Job& job, const job::Fixture& fixture, Plans& plans) {
    const auto& axes = plans.axes();
    const auto& plan = plans.of(fixture);
    std::vector<std::string> not_held;
    for (const auto& group : plan.groups) {
        for (const auto g : group.guides) {
            judged.worst = std::max(judged.worst, plumb_error(axes[g], group.attitude));
            if (!group.reachable) not_held.push_back(job.head.valves[g].id);
        }
    }
    judged.setups = plan.groups.size();
    if (not_held.empty()) {
        judged.in_favour.push_back(
            sentence<"every-guide-plumb">("worst"_is = as_angle(judged.worst), "setups"_is = judged.setups));
        return;
    }
    judged.against.push_back(sentence<"cannot-hold">(
        "valves"_is = list_of(not_held), "limit"_is = as_angle(fixture.plumb_limit),
        "worst"_is = as_angle(judged.worst), "tilt_low"_is = as_angle(fixture.tilt.low),
        "tilt_high"_is = as_angle(fixture.tilt.high), "swing_low"_is = as_angle(fixture.swing.low),
        "swing_high"_is = as_angle(fixture.swing.high)));
}

void judge_mass(Judged& judged, const job::Job& job, const job::Fixture& fixture) {
    if (job.head.mass && fixture.mass_max) {
        const auto text = sentence<"mass-on-limit">("mass"_is = as_mass(*job.head.mass),
                                                    "limit"_is = as_mass(*fixture.mass_max));
        if (*job.head.mass <= *fixture.mass_max)
            judged.in_favour.push_back(text);
        else
            object(judged, text);
    }
}

Judged judge(const job::Job& job, const job::Fixture& fixture, Plans& plans) {
    Judged judged;
    judge_posts(judged, job, fixture);
    judge_reach(judged, job, fixture, plans);
    judge_mass(judged, job, fixture);
    if (!fixture.suits.empty() && !job.head.layout.empty() &&
        std::find(fixture.suits.begin(), fixture.suits.end(), job.head.layout) == fixture.suits.end())
        judged.against.push_back(sentence<"made-for">("layouts"_is = list_of(fixture.suits, Join::commas),
                                                      "layout"_is = job.head.layout));
    return judged;
}

std::vector<job::Fixture> shelf_of(const job::Job& job) {
    return job.fixtures.empty() ? std::vector{job.fixture} : job.fixtures;
}

}  // namespace

std::vector<FixtureVerdict> judge_fixtures(const job::Job& job, const SetupPlan& own) {
    std::vector<FixtureVerdict> verdicts;
    std::vector<Judged> all;
    Plans plans(job, own, shelf_of(job).size());
    for (const auto& fixture : shelf_of(job)) all.push_back(judge(job, fixture, plans));
    std::optional<std::size_t> best;
    const auto better = [&](std::size_t a, std::size_t b) {
        if (all[a].setups != all[b].setups) return all[a].setups < all[b].setups;
        return all[a].worst < all[b].worst - angle_tie;
    };
    for (std::size_t f = 0; f < all.size(); ++f)
        if (all[f].against.empty() && (!best || better(f, *best))) best = f;
    const auto shelf = shelf_of(job);
    for (std::size_t f = 0; f < all.size(); ++f) {
        FixtureVerdict verdict{shelf[f].name, all[f].against.empty(), {}, best == f};
        const List reasons = list_of(verdict.fits ? all[f].in_favour : all[f].against, Join::semicolons);
        verdict.why = verdict.best ? sentence<"verdict-best">("reasons"_is = reasons)
                      : verdict.fits
                          ? sentence<"verdict-fits">("reasons"_is = reasons, "best"_is = shelf[*best].name,
                                                     "setups"_is = all[*best].setups,
                                                     "worst"_is = as_angle(all[*best].worst))
                          : sentence<"verdict-against">("reasons"_is = reasons);
        verdicts.push_back(std::move(verdict));
    }
    return verdicts;
}

std::vector<Warning> fixture_warnings(const job::Job& job, const std::vector<FixtureVerdict>& verdicts) {
    std::vector<Warning> warnings;
    Judged judged;
    judge_posts(judged, job, job.fixture);
    judge_mass(judged, job, job.fixture);
    for (const auto& why : judged.mechanical)
        warnings.push_back({"hold", "fixture", std::nullopt,
                            sentence<"fixture">("fixture"_is = job.fixture.name, "why"_is = why),
                            Severity::blocking});
    const auto best = std::find_if(verdicts.begin(), verdicts.end(), [](const auto& v) { return v.best; });
    if (best != verdicts.end() && best->name != job.fixture.name)
        warnings.push_back({"hold", "better-fixture", std::nullopt,
                            sentence<"better-fixture">("fixture"_is = best->name, "why"_is = best->why),
                            Severity::note});
    return warnings;
}

}  // namespace seatwright::hold
