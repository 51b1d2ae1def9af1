#include "seatwright/find/learner.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/find/pattern.hpp"
#include "seatwright/find/stood_by.hpp"
#include "seatwright/find/suspects.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

Warning foreign_warning(const std::string& head, const std::string& setup) {
    return {"find", "foreign-head", std::nullopt,
            sentence<"foreign-head">("head"_is = head, "setup"_is = setup), Severity::note};
}

// From the readout's axes to the machine's, and from a mirrored head to the head as drawn; its own inverse.
Vec2 signs_of(const job::Job& job) {
    return {job.machine.x_sign * (job.head.mirror == job::Mirror::x ? -1.0 : 1.0),
            job.machine.y_sign * (job.head.mirror == job::Mirror::y ? -1.0 : 1.0)};
}

// What a past head says in this setup: at least three of its guides, tilted much as then.
std::optional<Deviations> past_deviations(const job::PastHead& past, const job::Job& job,
                                          const hold::Setup& setup) {
    constexpr double much_as_then = 3 * rad_per_deg;  // cos 3 deg: a deviation changes by a thousandth
    const double tilt = past.tilt * (job.head.mirror == job::Mirror::y ? -1 : 1),
                 swing = past.swing * (job.head.mirror == job::Mirror::x ? -1 : 1);
    if (std::abs(tilt - setup.tilt) > much_as_then || std::abs(swing - setup.swing) > much_as_then)
        return std::nullopt;
    Deviations out{past.head, {}, {}, {}, past.from};
    const Vec2 sign = signs_of(job);
    for (std::size_t g = 0; g < setup.valves.size(); ++g) {
        const auto& id = job.head.valves[setup.valves[g].valve].id;
        const auto at = std::find(past.valves.begin(), past.valves.end(), id);
        if (at == past.valves.end()) continue;
        const auto i = static_cast<std::size_t>(at - past.valves.begin());
        out.guide.push_back(g);
        out.deviation.emplace_back(past.off[i].cwiseProduct(sign));
        out.touch_variance.push_back(past.sd[i] * past.sd[i]);
    }
    if (out.guide.size() < 3) return std::nullopt;
    return out;
}

}  // namespace

std::vector<std::string> known_from_here(const job::Job& job) {
    std::vector<std::string> known;
    for (const job::PastHead& past : job.find.past)
        if (past.from == job.title) known.push_back(past.head);
    if (known.empty()) return known;
    const auto heads = job.heads();
    std::erase_if(
        known, [&](const auto& head) { return std::find(heads.begin(), heads.end(), head) == heads.end(); });
    return known;
}

Learner::Learner(const job::Job& job, const hold::Hold& hold)
    : least_heads_(static_cast<std::size_t>(std::max(2, job.find.learn_min_heads))) {
    for (const hold::Setup& setup : hold.setups) {
        auto& declared = declared_.emplace_back();
        Setup& own = setups_.emplace_back(Setup{setup.id, {}});
        for (const hold::Held& held : setup.valves) {
            declared.push_back({held.readout, job.find.casting_sd});
            own.valves.push_back(held.valve);
        }
        records_.emplace_back(declared, static_cast<int>(least_heads_));
    }
    const auto twice = known_from_here(job);
    for (const job::PastHead& past : job.find.past) {
        if (past.from == job.title && std::find(twice.begin(), twice.end(), past.head) != twice.end())
            continue;
        for (std::size_t s = 0; s < records_.size(); ++s)
            if (auto known = past_deviations(past, job, hold.setups[s])) records_[s].take(std::move(*known));
    }
}

std::vector<job::PastHead> Learner::record(const job::Job& job, const hold::Hold& hold) const {
    std::vector<job::PastHead> out;
    const Vec2 sign = signs_of(job);
    for (std::size_t s = 0; s < records_.size(); ++s) {
        const hold::Setup& setup = hold.setups[s];
        for (const Deviations& head : records_[s].all()) {
            auto& past = out.emplace_back();
            past.head = head.head;
            past.from = head.from;
            past.tilt = setup.tilt * (job.head.mirror == job::Mirror::y ? -1 : 1);
            past.swing = setup.swing * (job.head.mirror == job::Mirror::x ? -1 : 1);
            for (std::size_t i = 0; i < head.guide.size(); ++i) {
                past.valves.push_back(job.head.valves[setup.valves[head.guide[i]].valve].id);
                past.off.emplace_back(head.deviation[i].cwiseProduct(sign));
                past.sd.push_back(std::sqrt(head.touch_variance[i]));
            }
        }
    }
    return out;
}

Learner::Prepared Learner::prepare(std::size_t setup, SetupInput input) const {
    const auto& learned = records_[setup].learned();
    if (!learned) return {std::move(input), false};
    const std::vector<Expected> expected = expected_from(*learned, declared_[setup]);
    const auto misfit = [&](std::span<const Reading> readings) {
        const auto pose = fit_pose(expected, readings, input.prior);
        return pose ? misfit_p(pose->chi2, degrees_of_freedom(readings.size(), input.prior), *learned) : 1.0;
    };
    if (misfit(others_than_stood_by(input.readings)) < foreign_below) {
        const Sorted sorted = sort_out(expected, input.readings, input.prior);
        if (mostly_suspect(sorted) || misfit(sorted.kept) < foreign_below) return {std::move(input), true};
    }
    input.guides = expected;
    input.learned_from = learned->heads;
    return {std::move(input), false};
}

Contribution Learner::contribution_of(std::size_t setup, const Prepared& prepared,
                                      const SetupOutcome& outcome) const {
    Contribution out{prepared.input.head, false, std::nullopt};
    if (!outcome.pose || outcome.found.datum_assumed || outcome.found.pattern != Pattern::as_declared)
        return out;
    out.foreign = prepared.foreign;
    if (out.foreign) return out;
    // Before anything is learned a reading may be suspect only because the declared pattern is off: all of
    // them go on record, and the record sorts them out among the heads. A guide whose touch a person stands
    // by has been moved: it teaches nothing of the casting.
    const bool learned = prepared.input.learned_from > 0;
    const std::vector<Reading> readings =
        others_than_stood_by(learned ? outcome.kept : prepared.input.readings);
    const auto pose = learned ? Solved<Pose>(*outcome.pose) : fit_pose(declared_[setup], readings, {});
    if (pose) out.deviations = deviations_of(out.head, declared_[setup], readings, *pose);
    return out;
}

Notices Learner::take(std::size_t setup, const Contribution& head, PatternRecord::Undo& undo) {
    Notices notices;
    const std::string& name = setups_[setup].id;
    if (head.foreign) notices.warnings.push_back(foreign_warning(head.head, name));
    if (!head.deviations) return notices;
    for (const std::string& foreign : records_[setup].take(*head.deviations, &undo))
        notices.warnings.push_back(foreign_warning(foreign, name));
    return notices;
}

void Learner::add_learned(FingerprintOf& print) const {
    for (const PatternRecord& record : records_) print.add(record.learned_print());
}

std::vector<std::vector<Expected>> Learner::next_patterns() const {
    std::vector<std::vector<Expected>> all = declared_;
    for (std::size_t s = 0; s < all.size(); ++s)
        if (const auto& learned = records_[s].learned()) all[s] = expected_from(*learned, declared_[s]);
    return all;
}

std::vector<Learned> Learner::learned() const {
    std::vector<Learned> all;
    for (std::size_t s = 0; s < records_.size(); ++s) {
        if (!records_[s].learned()) continue;
        const auto learned = records_[s].learned_from_all();
        if (!learned) continue;
        for (std::size_t g = 0; g < learned->guides.size(); ++g) {
            const LearnedPattern::Guide& guide = learned->guides[g];
            if (guide.seen)
                all.push_back({setups_[s].valves[g], guide.mean, guide.sd_of_mean, guide.scatter, guide.dof});
        }
    }
    std::sort(all.begin(), all.end(), [](const Learned& a, const Learned& b) { return a.valve < b.valve; });
    return all;
}

std::vector<Repeatability> Learner::repeatability() const {
    std::vector<Repeatability> all;
    for (std::size_t s = 0; s < records_.size(); ++s)
        if (const auto parts = records_[s].repeatability(); parts && records_[s].learned())
            all.push_back({setups_[s].id, parts->between_sd, parts->within_sd, records_[s].heads()});
    return all;
}

}  // namespace seatwright::find
