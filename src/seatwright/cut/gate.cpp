#include "seatwright/cut/gate.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/cut/zeros.hpp"
#include "seatwright/find/held.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

// First words of an allowance (`allow`) that let this pass; the second is the valve. None: nobody can.
std::vector<std::string> allowed_by(HeldCode code) {
    switch (code) {
        case HeldCode::guide_repair:
            return {"guide"};
        case HeldCode::plumb:
            return {"plumb"};
        case HeldCode::below_finish:
            return {"below finish"};
        case HeldCode::trim_large:
            return {"trim"};
        default:
            return {};
    }
}

bool lets_pass(const job::Job& job, const HeldBack& entry) {
    if (!entry.valve) return false;
    for (const std::string& word : allowed_by(entry.code))
        if (job::allowance_of(job, word + " " + *entry.valve) != nullptr) return true;
    return false;
}

// Several questions, or several figures, may stand open of one seat.
bool each_counts(HeldCode code) {
    return code == HeldCode::doubt || code == HeldCode::missing;
}

// Rounded down, so that what falls short of a limit never reads as the limit.
Figure percent(double chance) {
    return as_percent(std::floor(1000 * chance) / 10, 1);
}

// What the results of the stages say, each as an entry.
class Reader {
  public:
    explicit Reader(const Known& known)
        : known_(known), pilots_(find::pilots_of(known.job, known.find, known.shape.head)) {}

    std::vector<HeldBack> run() {
        for (const hold::Setup& setup : known_.hold.setups) {
            of_hold(setup);
            if (found_setup(known_.find, known_.shape.head, setup.id) == nullptr) not_found(setup);
        }
        guides();
        seats();
        return std::move(out_);
    }

  private:
    const std::string& id(std::size_t valve) const { return known_.job.head.valves.at(valve).id; }

    void hold(HeldCode code, const std::string& setup, std::optional<std::string> valve, Sentence reason,
              Sentence frees, std::string allow = {}) {
        out_.push_back({known_.shape.head, setup, std::move(valve), code, std::move(reason), std::move(frees),
                        std::move(allow)});
    }

    void of_hold(const hold::Setup& setup) {
        const char* axes[] = {"X", "Y"};
        for (std::size_t a = 0; a < 2; ++a)
            if (setup.travel_margin[a] && *setup.travel_margin[a] < 0)
                hold(HeldCode::travel, setup.id, std::nullopt,
                     sentence<"travel">("setup"_is = setup.id, "more"_is = as_place(-*setup.travel_margin[a]),
                                        "axis"_is = axes[a]),
                     sentence<"travel-frees">());
        for (const hold::Held& held : setup.valves)
            if (!held.reachable)
                hold(HeldCode::plumb, setup.id, id(held.valve),
                     sentence<"plumb">("guide"_is = id(held.valve), "off"_is = as_angle(held.plumb_error),
                                       "limit"_is = as_angle(known_.job.fixture.plumb_limit)),
                     sentence<"plumb-frees">("allow"_is = allow_words("plumb " + id(held.valve))),
                     "plumb " + id(held.valve));
        if (setup.safety.slip_factor && *setup.safety.slip_factor < 1)
            hold(HeldCode::safety, setup.id, std::nullopt,
                 sentence<"would-slip">("setup"_is = setup.id,
                                        "times"_is = as_number(*setup.safety.slip_factor, 2)),
                 sentence<"would-slip-frees">());
    }

    // The chance of a blind run is reckoned with the pilots of the guides read last, on whatever head: a
    // guide of this setup that takes a thicker one enters more rarely.
    std::optional<std::size_t> thicker_than_reckoned(const hold::Setup& setup) const {
        const auto& reckoned = known_.find.pilots;
        for (const hold::Held& held : setup.valves) {
            if (held.valve >= reckoned.size()) continue;
            const auto with = find::entry_clearance(known_.job, reckoned[held.valve]),
                       own = find::entry_clearance(known_.job, pilots_[held.valve]);
            if (with && own && *own < *with - find::size_tolerance) return held.valve;
        }
        return std::nullopt;
    }

    // No touch of this head: only a blind run can say that its pilots will enter.
    void not_found(const hold::Setup& setup) {
        if (known_.find.heads.empty() || known_.job.cut.pilot == job::PilotUse::none) return;
        const auto& blind = known_.find.blind_run;
        const auto thicker = thicker_than_reckoned(setup);
        if (blind && !thicker && blind->least_enter_probability >= find::enter_min_of(known_.job)) return;
        Sentence untouched;
        if (blind)
            untouched =
                thicker ? sentence<"and-thicker">("guide"_is = id(*thicker))
                        : sentence<"and-untouched">("chance"_is = percent(blind->least_enter_probability));
        hold(HeldCode::touch_first, setup.id, std::nullopt,
             sentence<"not-touched">("head"_is = known_.shape.head, "setup"_is = setup.id,
                                     "untouched"_is = std::move(untouched)),
             sentence<"touch-of">("guide"_is = id(setup.datum)));
    }

    void guides() {
        if (known_.job.cut.pilot == job::PilotUse::none) return;
        for (const find::PilotChoice& choice : pilots_)
            if (choice.repair)
                hold(HeldCode::guide_repair, {}, id(choice.valve),
                     sentence<"guide-repair">("guide"_is = id(choice.valve), "why"_is = choice.reason),
                     sentence<"guide-repair-frees">("allow"_is = allow_words("guide " + id(choice.valve))),
                     "guide " + id(choice.valve));
    }

    void seats() {
        for (const shape::Seat& seat : known_.shape.seats) {
            const std::string& name = id(seat.valve);
            if (seat.decision == shape::Decision::not_measured)
                hold(HeldCode::not_measured, {}, name, sentence<"reading-lacking">("seat"_is = name),
                     sentence<"reading-of">("seat"_is = name));
            else if (seat.decision == shape::Decision::below_finish)
                hold(HeldCode::below_finish, {}, name, sentence<"below-finish">("seat"_is = name),
                     sentence<"below-finish-frees">("allow"_is = allow_words("below finish " + name)),
                     "below finish " + name);
            else if (seat.decision == shape::Decision::not_allowed)
                hold(HeldCode::not_allowed, {}, name, sentence<"not-to-be-cut">("seat"_is = name),
                     sentence<"not-to-be-cut-frees">());
            else if (seat.decision == shape::Decision::insert)
                hold(HeldCode::too_deep, {}, name,
                     sentence<"too-deep">("seat"_is = name,
                                          "by"_is = seat.limited_by.empty()
                                                        ? Sentence()
                                                        : sentence<"by-limit">("limit"_is = seat.limited_by)),
                     sentence<"an-insert">());
            if (seat.decision != shape::Decision::cut) continue;
            if (seat.bridge && *seat.bridge < 0)
                hold(HeldCode::clash, {}, name,
                     sentence<"cuts-into">("seat"_is = name, "by"_is = as_length(-*seat.bridge),
                                           "other"_is = seat.bridge_to),
                     sentence<"another-form">());
            if (!seat.cutter)
                hold(HeldCode::no_cutter, {}, name, sentence<"no-cutter">("seat"_is = name),
                     sentence<"no-cutter-frees">());
            if (!(seat.stop_s || seat.depth))
                hold(HeldCode::not_measured, {}, name, sentence<"depth-not-known">("seat"_is = name),
                     sentence<"reading-of">("seat"_is = name));
        }
    }

    const Known& known_;
    const std::vector<find::PilotChoice> pilots_;
    std::vector<HeldBack> out_;
};

}  // namespace

Gate::Gate(const Known& known) : known_(known) {
    for (const Notices* stage :
         {static_cast<const Notices*>(&known.hold), static_cast<const Notices*>(&known.find),
          static_cast<const Notices*>(&known.shape)})
        for (const HeldBack& entry : stage->held_back)
            if (entry.head.empty() || entry.head == known.shape.head) hold(entry);
    for (HeldBack& entry : Reader(known).run()) hold(std::move(entry));
}

void Gate::hold(HeldBack entry) {
    if (lets_pass(known_.job, entry)) return;
    entry.head = known_.shape.head;
    if (!entry.setup.empty()) return add(std::move(entry));
    if (!entry.valve) {
        for (const hold::Setup& setup : known_.hold.setups) {
            entry.setup = setup.id;
            add(entry);
        }
        return;
    }
    if (const auto valve = known_.job.head.index_of(*entry.valve))
        if (const HeldAt at = held_at(known_.hold, *valve); at.held != nullptr)
            entry.setup = known_.hold.setups[at.setup].id;
    add(std::move(entry));
}

void Gate::add(HeldBack entry) {
    const bool said = std::any_of(entries_.begin(), entries_.end(), [&](const HeldBack& other) {
        return other.setup == entry.setup && other.valve == entry.valve && other.code == entry.code &&
               (!each_counts(entry.code) || other.frees == entry.frees);
    });
    if (!said) entries_.push_back(std::move(entry));
}

bool Gate::holds_setup(std::size_t setup) const {
    const std::string& id = known_.hold.setups.at(setup).id;
    return std::any_of(entries_.begin(), entries_.end(),
                       [&](const HeldBack& entry) { return !entry.valve && entry.setup == id; });
}

bool Gate::holds(std::size_t valve) const {
    const HeldAt at = held_at(known_.hold, valve);
    if (at.held == nullptr || holds_setup(at.setup)) return true;
    const std::string& id = known_.job.head.valves.at(valve).id;
    return std::any_of(entries_.begin(), entries_.end(),
                       [&](const HeldBack& entry) { return entry.valve == id; });
}

bool Gate::gives(const Sentence& reason) const {
    return std::any_of(entries_.begin(), entries_.end(),
                       [&](const HeldBack& entry) { return entry.reason == reason; });
}

bool Gate::concerns(const HeldBack& entry, const job::Selection& selection) const {
    if (selection.only.empty()) return true;
    return std::any_of(selection.only.begin(), selection.only.end(), [&](const std::string& id) {
        if (entry.valve) return *entry.valve == id;
        const auto valve = known_.job.head.index_of(id);
        const HeldAt at = valve ? held_at(known_.hold, *valve) : HeldAt{};
        return at.held != nullptr && known_.hold.setups[at.setup].id == entry.setup;
    });
}

std::vector<HeldBack> Gate::entries(const job::Selection& selection) const {
    std::vector<HeldBack> out;
    std::copy_if(entries_.begin(), entries_.end(), std::back_inserter(out),
                 [&](const HeldBack& entry) { return concerns(entry, selection); });
    const auto place = [&](const HeldBack& entry) {
        const auto valve = entry.valve ? known_.job.head.index_of(*entry.valve) : std::nullopt;
        return std::pair{entry.setup, valve ? *valve + 1 : 0};
    };
    std::stable_sort(out.begin(), out.end(),
                     [&](const HeldBack& a, const HeldBack& b) { return place(a) < place(b); });
    return out;
}

}  // namespace seatwright::cut
