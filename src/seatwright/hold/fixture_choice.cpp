#include "seatwright/hold/fixture_choice.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <deque>

#include "seatwright/hold/posts.hpp"
#include "seatwright/hold/words.hpp"

namespace seatwright::hold {

namespace {

struct Judged {
    std::vector<std::string> against;
    std::vector<std::string> mechanical;  // of those, what keeps the head off the fixture
    std::vector<std::string> in_favour;
    std::size_t setups = 0;
    double worst = 0;
};

void object(Judged& judged, std::string why) {
    judged.against.push_back(why);
    judged.mechanical.push_back(std::move(why));
}

void judge_posts(Judged& judged, const job::Job& job, const job::Fixture& fixture) {
    const auto posts = posts_of(job.head, fixture);
    if (!posts) return;
    if (fixture.post_span) {
        const auto text =
            fmt::format("posts {} apart, it takes {} to {}", length_words(posts->span, job.units),
                        length_words(fixture.post_span->low, job.units),
                        length_words(fixture.post_span->high, job.units));
        const job::Range eased{fixture.post_span->low - span_tie, fixture.post_span->high + span_tie};
        if (eased.contains(posts->span))
            judged.in_favour.push_back(text);
        else
            object(judged, text);
    }
    if (posts->clearance && *posts->clearance < 0)
        object(judged, fmt::format("its {} posts do not enter {} bolt holes",
                                   length_words(*fixture.post_diameter, job.units),
                                   length_words(*job.head.bolt_hole_diameter, job.units)));
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
        judged.in_favour.push_back(fmt::format("every guide within {} of plumb in {} setup{}",
                                               angle_words(judged.worst), judged.setups,
                                               judged.setups == 1 ? "" : "s"));
        return;
    }
    judged.against.push_back(
        fmt::format("cannot hold {} within {} of plumb (least error {}; tilt {} to {}, "
                    "swing {} to {})",
                    ids_words(not_held), angle_words(fixture.plumb_limit), angle_words(judged.worst),
                    angle_words(fixture.tilt.low), angle_words(fixture.tilt.high),
                    angle_words(fixture.swing.low), angle_words(fixture.swing.high)));
}

void judge_mass(Judged& judged, const job::Job& job, const job::Fixture& fixture) {
    if (job.head.mass && fixture.mass_max) {
        const auto text = fmt::format("{} on a limit of {}", mass_words(*job.head.mass, job.units),
                                      mass_words(*fixture.mass_max, job.units));
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
        judged.against.push_back(fmt::format("made for {} heads, this one is {}",
                                             fmt::join(fixture.suits, ", "), job.head.layout));
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
        const auto& reasons = verdict.fits ? all[f].in_favour : all[f].against;
        const char* lead = verdict.best ? "best: " : verdict.fits ? "fits: " : "";
        verdict.why = fmt::format("{}{}", lead, fmt::join(reasons, "; "));
        if (verdict.fits && !verdict.best)
            verdict.why +=
                fmt::format("; {} does it in {} setup{} within {}", shelf[*best].name, all[*best].setups,
                            all[*best].setups == 1 ? "" : "s", angle_words(all[*best].worst));
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
                            fmt::format("fixture {} does not take this head: {}", job.fixture.name, why),
                            Severity::blocking});
    const auto best = std::find_if(verdicts.begin(), verdicts.end(), [](const auto& v) { return v.best; });
    if (best != verdicts.end() && best->name != job.fixture.name)
        warnings.push_back({"hold", "better-fixture", std::nullopt,
                            fmt::format("fixture {} would serve this head better: {}", best->name, best->why),
                            Severity::note});
    return warnings;
}

}  // namespace seatwright::hold
