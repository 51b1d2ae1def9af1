#include "seatwright/scan/told.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/words/english_scan.hpp"
#include "seatwright/words/in_words.hpp"

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
    std::string said(double mm) const { return written(as_length(mm), out_.units); }
    void ask(std::string what, std::string why, std::string next) {
        out_.missing.push_back({std::move(what), std::move(why), std::move(next), 0});
    }
    void warn(const char* code, Sentence text, std::optional<std::string> valve = std::nullopt,
              Severity severity = Severity::note) {
        out_.warnings.push_back({"scan", code, std::move(valve), std::move(text), severity});
    }

    void missing() {
        for (const auto& n : h_.not_seen) {
            if (n.expected)
                ask("guide " + n.id,
                    fmt::format("not seen: the others' spacing puts one at {}, {}", said(n.at.x()),
                                said(n.at.y())),
                    "touch it (survey), or scan it again");
            else if (n.length < least_length)
                ask("guide " + n.id,
                    fmt::format("only {} of its bore is seen: below {} it gives no axis", said(n.length),
                                said(least_length)),
                    "scan it again with a pin standing in the guide, or read it with the sensor on a pilot "
                    "(survey)");
            else
                ask("guide " + n.id,
                    fmt::format("only {:.0f} deg of its turn is seen: below {:.0f} it gives no axis",
                                deg(n.arc), deg(least_arc)),
                    "scan it again from the other side, or with a pin standing in the guide");
        }
        std::string no_seat;
        for (const auto& v : out_.valves)
            if (!v.z.value) no_seat += (no_seat.empty() ? "" : ", ") + v.id;
        if (!no_seat.empty())
            ask("z of " + no_seat, "the seat is not seen over half of its turn",
                "read one valve of each kind below deck (survey), or type z");
        if (!h_.kinds_known && !out_.valves.empty())
            ask("kind of every valve", "seats of one size, or none, do not show it",
                "look which row takes the intakes: type head.valve.kind");
        if (h_.grooves > 0)
            ask("axis of what may be bores",
                fmt::format("{} round walls are seen over {:.0f} deg of a turn or less, with no seat above "
                            "them: they may be "
                            "grooves, and were not taken",
                            h_.grooves, deg(sure_arc)),
                "if one of them is a guide, scan it from more sides");
        // Bores seen over too little, with no seat above them either.
        if (h_.strays > 0)
            ask("axis of what may be bores",
                fmt::format("{} round walls are seen over less than {} or {:.0f} deg of a turn", h_.strays,
                            said(least_length), deg(least_arc)),
                "if one of them is a guide, scan it deeper, or touch it (survey)");
        if (!out_.bolt_diameter.value)
            ask("bolt holes", "no holes of one size, square to the deck, are seen",
                "scan their walls, or type head.bolt_holes");
        if (out_.valves.empty() && h_.not_seen.empty())
            ask("every guide", "not seen: no bore that leans or lies under a seat",
                "scan with pins standing in the guides, or take readings (survey)");
        if (h_.row_shown)
            ask("which end is which", "a surface does not say which end is the front",
                fmt::format("look whether cylinder 1 is at the end taken; if not, add --end-for-end{}",
                            told_.end_for_end ? " (it was turned already)" : ""));
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
            constexpr double worth_saying = 0.1;
            if (v.off_guide.value_or(0) > worth_saying)
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
