#include "seatwright/find/held.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/numerics/disc_probability.hpp"
#include "seatwright/find/pattern.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

constexpr double usual_enter_min = 0.99, guided_enter_min = 0.90;
// As for a wrong way round (model.md, find): below it the declared pattern is rejected.
constexpr double rejected_p = 0.001;

// mm: more than a guide can be relocated in its boss, which is about half a bore's wall (from memory).
constexpr double most_strayed = 5;

Part chance_words(double probability) {
    // Rounded down: a chance is never said to be more than it is.
    if (probability > 0.99999) return sentence<"chance-over">("least"_is = as_percent(99.999, 3));
    return as_percent(std::floor(probability * 1e5) / 1e3, 3);
}

class Holder {
  public:
    Holder(const job::Job& job, const SetupInput& input, const SetupOutcome& outcome)
        : job_(job), input_(input), outcome_(outcome), found_(outcome.found) {}

    std::vector<HeldBack> run() {
        if (!outcome_.pose) {
            setup(HeldCode::fit, sentence<"fit-not-settled">(), sentence<"fit-not-settled-frees">());
            return std::move(held_);
        }
        if (found_.pattern != Pattern::as_declared) {
            setup(HeldCode::way_round, sentence<"fits-other-way">("way"_is = words_of(found_.pattern)),
                  sentence<"fits-other-way-frees">());
            return std::move(held_);
        }
        if (suspects()) return std::move(held_);
        if (found_.p_value && *found_.p_value < rejected_p) {
            setup(HeldCode::fit, sentence<"fits-not">("p"_is = as_power_of_ten(*found_.p_value, 1)),
                  sentence<"fits-not-frees">());
            return std::move(held_);
        }
        chances();
        return std::move(held_);
    }

  private:
    const std::string& id(std::size_t valve) const { return job_.head.valves[valve].id; }

    void hold(std::optional<std::string> valve, HeldCode code, Sentence reason, Sentence frees) {
        held_.push_back(
            {input_.head, found_.id, std::move(valve), code, std::move(reason), std::move(frees)});
    }
    void setup(HeldCode code, const Sentence& reason, Sentence frees) {
        hold(std::nullopt, code, sentence<"of-setup">("setup"_is = found_.id, "reason"_is = reason),
             std::move(frees));
    }

    // What was read of one guide: the touches the pose was fitted to, and those set aside.
    struct Touches {
        std::vector<Vec2> kept, aside;
        // Two that agree outweigh one that does not: somebody touched again to find out.
        bool settled() const { return aside.empty() || (kept.size() > 1 && kept.size() > aside.size()); }
    };
    Touches touches_of(std::size_t guide) const {
        Touches out;
        for (const Reading& reading : outcome_.kept)
            if (reading.touch && reading.guide == guide) out.kept.push_back(reading.at);
        const auto& all = found_.set_aside;
        for (const Reading& reading : input_.readings)
            if (reading.guide == guide && reading.touch &&
                std::find(all.begin(), all.end(), *reading.touch) != all.end())
                out.aside.push_back(reading.at);
        return out;
    }

    // Whether the whole setup is held for its suspects.
    bool suspects() {
        for (std::size_t g = 0; g < found_.guides.size(); ++g) {
            const bool by_word = std::any_of(input_.readings.begin(), input_.readings.end(),
                                             [&](const Reading& r) { return r.guide == g && r.keep; });
            if (by_word && strays(g)) {
                hold(id(found_.guides[g].valve), HeldCode::suspect, sentence<"strays">(),
                     sentence<"strays-frees">("valve"_is = id(found_.guides[g].valve)));
                continue;
            }
            const bool decided = by_word || !found_.guides[g].suspect;
            if (!decided && (disagree() || !touches_of(g).settled())) undecided_.push_back(g);
        }
        if (undecided_.empty()) return false;
        std::vector<std::string> names;
        names.reserve(undecided_.size());
        for (const std::size_t g : undecided_) names.push_back(id(found_.guides[g].valve));
        if (undecided_.size() > 1 || disagree()) {
            setup(HeldCode::suspect, sentence<"touches-of">("valves"_is = list_of(names, Join::commas)),
                  sentence<"touches-of-frees">());
            return true;
        }
        const Touches own = touches_of(undecided_.front());
        if (own.kept.empty())
            hold(names.front(), HeldCode::suspect, sentence<"set-aside">(),
                 sentence<"set-aside-frees">("valve"_is = names.front()));
        else
            hold(names.front(), HeldCode::suspect,
                 sentence<"touched-twice">("x"_is = as_length(own.aside.front().x()),
                                           "y"_is = as_length(own.aside.front().y()),
                                           "kept_x"_is = as_length(own.kept.front().x()),
                                           "kept_y"_is = as_length(own.kept.front().y())),
                 sentence<"touched-twice-frees">("valve"_is = names.front()));
        return false;
    }

    // A word cannot put a guide where no casting has one. Distances, since they do not turn with the head.
    bool strays(std::size_t g) const {
        for (std::size_t h = 0; h < found_.guides.size(); ++h) {
            if (h == g || !found_.guides[h].touched) continue;
            const double is = (found_.guides[g].at - found_.guides[h].at).norm();
            if (std::abs(is - (input_.guides[g].map - input_.guides[h].map).norm()) > most_strayed)
                return true;
        }
        return false;
    }

    bool disagree() const {
        return std::any_of(outcome_.warnings.begin(), outcome_.warnings.end(),
                           [](const Warning& w) { return w.code == "touches-disagree"; });
    }

    bool is_undecided(const FoundGuide& guide) const {
        return std::any_of(undecided_.begin(), undecided_.end(),
                           [&](std::size_t g) { return found_.guides[g].valve == guide.valve; });
    }

    void chances() {
        if (job_.cut.pilot == job::PilotUse::planted || job_.cut.pilot == job::PilotUse::none) return;
        const double least = enter_min_of(job_);
        for (const FoundGuide& guide : found_.guides) {
            if (is_undecided(guide) || !guide.enter_probability) continue;
            if (guide.placed && *guide.enter_probability >= least) continue;
            const double then = chance_when_touched(guide, job_.find.touch_sd, job_.find.positioning_sd);
            const Sentence reason =
                guide.placed ? sentence<"chance">("chance"_is = chance_words(*guide.enter_probability),
                                                  "least"_is = chance_words(least))
                             : sentence<"place-a-guess">();
            hold(id(guide.valve), HeldCode::touch_first, reason,
                 then >= least
                     ? sentence<"touch-then">("valve"_is = id(guide.valve), "chance"_is = chance_words(then))
                     : sentence<"no-touch-enough">("chance"_is = chance_words(then)));
        }
    }

    const job::Job& job_;
    const SetupInput& input_;
    const SetupOutcome& outcome_;
    const FoundSetup& found_;
    std::vector<std::size_t>
        undecided_;  // guides whose touches do not agree, nobody having said which is right
    std::vector<HeldBack> held_;
};

}  // namespace

double enter_min_of(const job::Job& job) {
    if (job.cut.enter_min) return *job.cut.enter_min;
    const auto& tool_float = job.machine.tool_float;
    const bool guided =
        tool_float && tool_float->kind == job::Float::Kind::commanded && tool_float->free == "hand";
    return guided ? guided_enter_min : usual_enter_min;
}

double chance_when_touched(const FoundGuide& guide, double touch_sd, double positioning_sd) {
    const Mat2 read = guide.covariance + Mat2::Identity() * (touch_sd * touch_sd);
    const double det = read(0, 0) * read(1, 1) - read(0, 1) * read(1, 0);
    Mat2 after = guide.covariance;
    if (det > 0) {
        Mat2 inverse;
        inverse << read(1, 1), -read(0, 1), -read(1, 0), read(0, 0);
        after -= guide.covariance * (inverse / det) * guide.covariance;
    }
    after.diagonal().array() += positioning_sd * positioning_sd;
    return numerics::disc_probability(Vec2::Zero(), after, guide.entry_clearance.value_or(0));
}

std::vector<HeldBack> held_back_of(const job::Job& job, const SetupInput& input,
                                   const SetupOutcome& outcome) {
    return Holder(job, input, outcome).run();
}

}  // namespace seatwright::find
