#include "seatwright/scan/told.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/words/english_scan.hpp"

namespace seatwright::scan {
namespace {

class Teller {
  public:
    Teller(const Found& found, const Told& told, const Head& head, double longest, Scan& out)
        : f_(found), told_(told), h_(head), longest_(longest), out_(out) {}

    void all() {
        missing();
        warnings();
        assumptions();
    }

  private:
    void ask(Sentence what, Sentence why, Sentence next) {
        out_.missing.push_back({std::move(what), std::move(why), std::move(next), 0});
    }
    void warn(const char* code, Sentence text, std::optional<std::string> valve = std::nullopt,
              Severity severity = Severity::note) {
        out_.warnings.push_back({"scan", code, std::move(valve), std::move(text), severity});
    }

    void missing() {
        const auto least = as_length(least_length);
        const auto least_turn = as_degrees(least_arc, 0);
        for (const auto& n : out_.not_seen) {
            auto guide = sentence<"guide">("valve"_is = n.id);
            if (n.expected)
                ask(std::move(guide),
                    sentence<"spacing-puts-one">("x"_is = as_length(n.at.x()), "y"_is = as_length(n.at.y())),
                    sentence<"touch-or-again">());
            else if (n.length < least_length)
                ask(std::move(guide),
                    sentence<"too-short">("length"_is = as_length(n.length), "least"_is = least),
                    sentence<"pin-or-sensor">());
            else
                ask(std::move(guide),
                    sentence<"too-little-turn">("arc"_is = as_degrees(n.arc, 0), "least"_is = least_turn),
                    sentence<"other-side">());
        }
        std::string no_seat;
        for (const auto& v : out_.valves)
            if (!v.z.value) no_seat += (no_seat.empty() ? "" : ", ") + v.id;
        if (!no_seat.empty())
            ask(sentence<"z-of">("valves"_is = no_seat), sentence<"half-a-seat">(),
                sentence<"read-or-type-z">());
        if (!h_.kinds_known && !out_.valves.empty())
            ask(sentence<"kind-of-every">(), sentence<"seats-show-none">(), sentence<"look-which-row">());
        if (h_.grooves > 0)
            ask(sentence<"may-be-bores">(),
                sentence<"grooves">("count"_is = h_.grooves, "arc"_is = as_degrees(sure_arc, 0)),
                sentence<"from-more-sides">());
        if (h_.strays > 0)
            ask(sentence<"may-be-bores">(),
                sentence<"strays">("count"_is = h_.strays, "least"_is = least, "arc"_is = least_turn),
                sentence<"deeper">());
        if (!out_.bolt_diameter.value)
            ask(sentence<"bolt-holes">(), sentence<"no-holes">(), sentence<"scan-walls">());
        if (out_.valves.empty() && out_.not_seen.empty())
            ask(sentence<"every-guide">(), sentence<"no-guide">(), sentence<"with-pins">());
        if (h_.row_shown)
            ask(sentence<"which-end">(), sentence<"front-not-said">(),
                told_.end_for_end ? sentence<"turned-already">() : sentence<"add-end-for-end">());
    }

    void warnings() {
        if (out_.valves.empty()) warn("no-valve", sentence<"no-valve">(), std::nullopt, Severity::blocking);
        if (!h_.kinds_known && !out_.valves.empty())
            warn("kind-unknown", sentence<"one-size">(), std::nullopt, Severity::blocking);
        if (f_.rival)
            warn("other-plane", sentence<"other-plane">("away"_is = as_length(std::abs(*f_.rival)),
                                                        "share"_is = std::string("half or more")));
        if (!out_.bolt_diameter.value) warn("no-bolt-holes", sentence<"no-bolt-holes">());
        if (h_.bolts_in_doubt)
            warn("bolts-in-doubt",
                 sentence<"bolts-in-doubt">("size"_is = as_length(*out_.bolt_diameter.value)));
        for (const auto& v : out_.valves) {
            if (!v.z.value) warn("seat-not-seen", sentence<"seat-not-seen">("valve"_is = v.id), v.id);
            if (v.face_in_doubt)
                warn("face-in-doubt",
                     sentence<"face-in-doubt">("valve"_is = v.id,
                                               "angle"_is = as_degrees(*v.seat_angle.value, 1)),
                     v.id);
            if (v.off_guide.value_or(0) > worth_saying_off)
                warn("seat-off", sentence<"seat-off">("valve"_is = v.id, "off"_is = as_length(*v.off_guide)),
                     v.id);
        }
    }

    void assumptions() {
        auto& a = out_.assumptions;
        if (!out_.unit_told)
            a.push_back(sentence<"unit-inferred">(
                "unit"_is = std::string(out_.units == LengthUnit::inch ? "inches" : "millimetres"),
                "length"_is = as_length(longest_)));
        a.push_back(sentence<"deck-largest">());
        a.push_back(sentence<"from-below">());
        if (!out_.valves.empty()) {
            a.push_back(sentence<"mean-for-centre">());
            if (!h_.row_shown) a.push_back(sentence<"row-along-x">());
            if (h_.kinds_known) a.push_back(sentence<"larger-intakes">());
        }
        a.push_back(sentence<"noise">("times"_is = as_number(std::sqrt(f_.wider.bore[0]), 2)));
    }

    const Found& f_;
    const Told& told_;
    const Head& h_;
    double longest_;
    Scan& out_;
};

}  // namespace

void tell(const Found& found, const Told& told, const Head& head, double longest, Scan& out) {
    Teller(found, told, head, longest, out).all();
}

}  // namespace seatwright::scan
