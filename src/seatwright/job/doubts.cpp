#include "seatwright/job/doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "seatwright/job/heads.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/job/place_doubts.hpp"
#include "seatwright/job/repeated.hpp"
#include "seatwright/words/english_job.hpp"

namespace seatwright::job {
namespace {

// Clearances of stems are at most 0.15 mm, pilots step by less (trade, service data): twice that asks.
constexpr double most_off_bore = 0.3;
constexpr double least_bores_long = 2;
// Valve and seat are ground alike or 0.5 to 1 deg apart (trade): three times the widest asks.
constexpr double most_faces_apart = rad(3 + 1e-9);
// A form tool on a seat is fed a few hundredths of a mm a turn (common practice): what cannot be is ten times
// off, an inch taken for a mm or the other way.
constexpr double least_feed = 0.002, most_feed = 0.4;

std::string trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return std::string(text.substr(first, text.find_last_not_of(" \t") - first + 1));
}

// The two sides of "key = value".
std::pair<std::string, std::string> sides(const std::string& words) {
    const auto at = words.find('=');
    if (at == std::string::npos) return {};
    return {trimmed(std::string_view(words).substr(0, at)), trimmed(std::string_view(words).substr(at + 1))};
}

Stage stage_of(std::string_view key) {
    if (key.starts_with("reading.proof")) return Stage::prove;
    for (const std::string_view table : {"seat.", "depth.", "reading.seat", "reading.first"})
        if (key.starts_with(table)) return Stage::shape;
    return Stage::hold;
}

Cost cost_of(std::string_view key) {
    if (key.starts_with("reading.proof")) return Cost::measured_after;
    if (key.starts_with("reading.")) return Cost::reading;
    if (key.starts_with("head.")) return Cost::place;
    if (key.starts_with("valve.") || key.starts_with("seat.") || key.starts_with("guide.")) return Cost::form;
    return Cost::rule;
}

Sentence place_said(std::string_view place) {
    if (place == "top") return sentence<"place-top">();
    return place == "middle" ? sentence<"place-middle">() : sentence<"place-bottom">();
}

class Asker {
  public:
    Asker(const Job& job, Stage stage, const std::string& head) : job_(job), stage_(stage), head_(head) {}

    std::vector<Doubt> take() { return dearest_first(std::move(out_)); }

    // The file as a whole; true if that is all there is to ask.
    bool whole_file() {
        const LengthUnit other =
            job_.figures.file_units == LengthUnit::inch ? LengthUnit::mm : LengthUnit::inch;
        const char* now = job_.figures.file_units == LengthUnit::inch ? "in" : "mm";
        const auto named = [](LengthUnit unit) {
            return unit == LengthUnit::inch ? sentence<"whole-file-inch">() : sentence<"whole-file-mm">();
        };
        if (!asks_of_whole_file(job_)) return false;
        if (stage_ == Stage::hold)
            out_.push_back({stage_,
                            Cost::whole_file,
                            "units",
                            now,
                            sentence<"whole-file">("other"_is = named(other), "now"_is = now,
                                                   "count"_is = job_.figures.units.in_other_unit,
                                                   "own"_is = named(job_.figures.file_units)),
                            std::nullopt,
                            {},
                            false});
        return stage_ != Stage::prove;
    }

    void odd_figures() {
        for (const OddFigure& odd : job_.figures.odd) {
            if (stage_of(odd.key) != stage_) continue;
            if (!odd.head.empty() && !head_.empty() && odd.head != head_) continue;
            const auto dimension = odd.range->dimension;
            if (is_sure(job_, odd.key, odd.value, dimension)) continue;
            Doubt doubt;
            doubt.stage = stage_;
            doubt.cost = cost_of(odd.key);
            doubt.key = odd.key;
            doubt.value = as_typed(odd.value, dimension);
            doubt.text = sentence_of(odd, doubt.value);
            // What a first seat says moves every stop of its file.
            const bool of_all = odd.key.starts_with("reading.first");
            if (!of_all && !odd.valve.empty() && job_.head.index_of(odd.valve)) doubt.valve = odd.valve;
            doubt.head = odd.head;
            doubt.reading = odd.key.starts_with("reading.");
            out_.push_back(std::move(doubt));
        }
    }

    void head_and_guides() {
        for (Doubt& doubt : doubts_of_places(job_)) out_.push_back(std::move(doubt));
        for (const Kind kind : both_kinds) bores(kind);
        for (Doubt& doubt : repeated_guides(job_, head_)) out_.push_back(std::move(doubt));
        read_bores();
    }

    // Valves that could not seal on the seats they get.
    void faces() {
        for (const Kind kind : both_kinds) {
            const auto& seat = job_.seat[kind];
            const auto face = job_.valve[kind] ? job_.valve[kind]->face_angle : std::nullopt;
            if (!has(kind) || !seat || !face || std::abs(*face - seat->angle) <= most_faces_apart) continue;
            form_doubt(fmt::format("valve.{}.face_angle", kind_word(kind)), *face,
                       sentence<"face-angle">("kind"_is = kind_said(kind),
                                              "face"_is = as_typed(*face, Dimension::angle),
                                              "seat"_is = as_typed(seat->angle, Dimension::angle)),
                       Dimension::angle);
        }
    }

    // Of the materials that are cut; said by shape, which reads them.
    void feeds() {
        const auto look_at = [&](const std::string& name) {
            const Material* material = name.empty() ? nullptr : job_.material(name);
            if (material == nullptr || !material->feed) return;
            for (const double feed : {material->feed->low, material->feed->high})
                if (feed > 0 && (feed < least_feed || feed > most_feed))
                    return form_doubt(fmt::format("material.{}.feed", name), feed,
                                      sentence<"material-feed">(
                                          "material"_is = name, "feed"_is = as_typed(feed, Dimension::length),
                                          "low"_is = as_typed(least_feed, Dimension::length),
                                          "high"_is = as_typed(most_feed, Dimension::length)));
        };
        look_at(job_.head.material);
        for (const Kind kind : both_kinds) {
            if (!job_.seat[kind]) continue;
            look_at(job_.seat[kind]->material);
            if (job_.seat[kind]->insert) look_at(job_.seat[kind]->insert->material);
        }
    }

  private:
    Sentence sentence_of(const OddFigure& odd, const Part& value) const {
        const Plausible& range = *odd.range;
        const auto words = [&](double bare) {
            return as_typed(from_bare(bare, range.dimension, LengthUnit::mm), range.dimension);
        };
        const Sentence line = odd.line > 0 ? sentence<"cannot-be-line">("line"_is = odd.line) : Sentence();
        Sentence fit;
        if (const auto unit = unit_that_fits(range, odd.typed, job_.figures.file_units)) {
            const auto number = odd.typed.substr(0, odd.typed.find_first_not_of("0123456789.,+-/ "));
            fit = sentence<"would-fit">("number"_is = trimmed(number), "unit"_is = *unit);
        }
        return sentence<"cannot-be">("key"_is = seatwright::Key{odd.key}, "value"_is = value,
                                     "line"_is = line, "what"_is = range.what, "low"_is = words(range.low),
                                     "high"_is = words(range.high), "fit"_is = fit);
    }

    void form_doubt(std::string key, double value, Sentence text, Dimension dimension = Dimension::length) {
        if (is_sure(job_, key, value, dimension)) return;
        out_.push_back({stage_,
                        Cost::form,
                        std::move(key),
                        as_typed(value, dimension),
                        std::move(text),
                        std::nullopt,
                        {},
                        false});
    }

    bool has(Kind kind) const {
        return std::any_of(job_.head.valves.begin(), job_.head.valves.end(),
                           [&](const Valve& v) { return v.kind == kind; });
    }

    void bores(Kind kind) {
        const auto& guide = job_.guide[kind];
        if (!has(kind) || !guide || !guide->bore) return;
        const double bore = *guide->bore;
        const auto size = [](double mm) { return as_typed(mm, Dimension::length); };
        if (guide->length && *guide->length < least_bores_long * bore)
            form_doubt(fmt::format("guide.{}.length", kind_word(kind)), *guide->length,
                       sentence<"guide-short">("kind"_is = kind_said(kind),
                                               "length"_is = size(*guide->length), "bore"_is = size(bore)));
        const auto stem = job_.valve[kind] ? job_.valve[kind]->stem_diameter : std::nullopt;
        if (stem && std::abs(*stem - bore) > most_off_bore)
            form_doubt(fmt::format("valve.{}.stem_diameter", kind_word(kind)), *stem,
                       sentence<"stem-bore">("kind"_is = kind_said(kind), "stem"_is = size(*stem),
                                             "bore"_is = size(bore), "most"_is = size(most_off_bore)));
        if (job_.pilots.empty()) return;
        const auto nearest =
            std::min_element(job_.pilots.begin(), job_.pilots.end(), [&](const Pilot& a, const Pilot& b) {
                return std::abs(a.diameter - bore) < std::abs(b.diameter - bore);
            });
        if (std::abs(nearest->diameter - bore) > most_off_bore)
            form_doubt(
                fmt::format("guide.{}.bore", kind_word(kind)), bore,
                sentence<"no-pilot-near">("kind"_is = kind_said(kind), "bore"_is = size(bore),
                                          "pilot"_is = nearest->name, "has"_is = size(nearest->diameter)));
    }

    // What was read against the drawing; a figure that cannot be at all is asked about as such.
    void read_bores() {
        if (head_.empty())
            for (const GuideBore& read : job_.readings.guides) read_bore(read);
        else
            for (const GuideBore& read : of_head(job_.readings.guides, head_)) read_bore(read);
    }

    void read_bore(const GuideBore& read) {
        if (read.sure) return;
        const auto valve = job_.head.index_of(read.valve);
        if (!valve) return;
        const auto& guide = job_.guide[job_.head.valves[*valve].kind];
        if (!guide || !guide->bore) return;
        const std::array<std::pair<const char*, double>, 3> places{
            {{"top", read.top}, {"middle", read.middle}, {"bottom", read.bottom}}};
        for (const auto& [place, d] : places) {
            if (std::abs(d - *guide->bore) <= most_off_bore) continue;
            const std::string key = fmt::format("reading.guide.{}.{}.{}", read.head, read.valve, place);
            const auto told = [&](const Doubt& doubt) { return doubt.key == key; };
            if (std::any_of(out_.begin(), out_.end(), told) || is_sure(job_, key, d, Dimension::length))
                continue;
            const auto size = [](double mm) { return as_typed(mm, Dimension::length); };
            out_.push_back(
                {stage_, Cost::reading, key, size(d),
                 sentence<"guide-read">("guide"_is = read.valve, "head"_is = read.head, "read"_is = size(d),
                                        "place"_is = place_said(place), "drawn"_is = size(*guide->bore),
                                        "most"_is = size(most_off_bore)),
                 read.valve, read.head, true});
            break;  // one question for a guide
        }
    }

    const Job& job_;
    Stage stage_;
    std::string head_;
    std::vector<Doubt> out_;
};

}  // namespace

Sentence sure_words(const Doubt& doubt) {
    return doubt.reading
               ? sentence<"sure-beside">()
               : sentence<"sure-entry">("key"_is = seatwright::Key{doubt.key}, "value"_is = doubt.value);
}

bool is_sure(const Job& job, const std::string& key, double value, Dimension dimension) {
    constexpr double as_shown = 1e-5;  // figures are said with six digits
    return std::any_of(job.sure.begin(), job.sure.end(), [&](const Sure& sure) {
        const auto [said, figure] = sides(sure.words);
        if (said != key) return false;
        const auto known = parse_quantity(figure, dimension, sure.units);
        return known && std::abs(*known - value) <= as_shown * std::max(std::abs(value), std::abs(*known));
    });
}

bool is_sure(const Job& job, const std::string& key, const std::string& word) {
    return std::any_of(job.sure.begin(), job.sure.end(),
                       [&](const Sure& sure) { return sides(sure.words) == std::pair(key, word); });
}

std::string planned_head(const Job& job, const std::string& asked) {
    if (!asked.empty()) return asked;
    if (!job.readings.seats.empty()) return job.readings.seats.back().head;
    const auto known = known_heads(job);
    return known.front();
}

std::vector<Doubt> doubts_of(const Job& job, Stage stage, const std::string& head) {
    Asker ask(job, stage, head);
    if (ask.whole_file()) return ask.take();
    ask.odd_figures();
    if (stage == Stage::hold) ask.head_and_guides();
    if (stage == Stage::shape) ask.faces();
    if (stage == Stage::shape) ask.feeds();
    return ask.take();
}

std::vector<Doubt> dearest_first(std::vector<Doubt> doubts) {
    std::set<std::string> keys;
    std::erase_if(doubts, [&](const Doubt& d) { return !keys.insert(d.key).second; });
    std::stable_sort(doubts.begin(), doubts.end(),
                     [](const Doubt& a, const Doubt& b) { return a.cost > b.cost; });
    return doubts;
}

Job without_doubtful_proofs(const Job& job) {
    Job out = job;
    for (const Doubt& doubt : doubts_of(job, Stage::prove, {}))
        for (auto& read : out.readings.proofs) {
            if (read.head != doubt.head || (doubt.valve && read.valve != *doubt.valve) || read.sure) continue;
            const auto is = [&](std::string_view what) {
                const auto at = doubt.key.rfind('.');
                return doubt.key.substr(at + 1).starts_with(what);
            };
            if (is("runout")) read.runout.reset();
            if (is("width")) read.width.clear();
            if (is("stem_height")) read.stem_height.reset();
            if (is("vacuum_after"))
                read.vacuum_after.reset();
            else if (is("vacuum"))
                read.vacuum.reset();
            if (is("trace")) {
                read.trace.clear();
                read.angles.clear();
            }
        }
    return out;
}

bool asks_of_whole_file(const Job& job) {
    return job.figures.units.whole_file_reads_other() &&
           !is_sure(job, "units", job.figures.file_units == LengthUnit::inch ? "in" : "mm");
}

std::size_t asked_in(const Notices& notices) {
    return static_cast<std::size_t>(
        std::count_if(notices.warnings.begin(), notices.warnings.end(),
                      [](const Warning& warning) { return warning.code == "doubt"; }));
}

void ask_about(Notices& notices, std::vector<Doubt> doubts, std::size_t open) {
    if (doubts.empty()) return;
    if (open >= most_open) {  // those that stand open may each be about one valve
        HeldBack waiting;
        waiting.code = HeldCode::doubt;
        waiting.reason = sentence<"doubts-waiting">("count"_is = doubts.size());
        waiting.frees = sentence<"doubts-settle">();
        notices.held_back.push_back(std::move(waiting));
        return;
    }
    const std::size_t asked = std::min(doubts.size(), most_open - open);
    const bool more = doubts.size() > asked;
    for (std::size_t i = 0; i < asked; ++i) {
        const Doubt& doubt = doubts[i];
        const Sentence sure =
            doubt.reading ? sentence<"sure-reading">() : sentence<"sure-key">("entry"_is = sure_words(doubt));
        Sentence after;
        if (more && i + 1 == asked) after = sentence<"doubts-more">("count"_is = doubts.size() - asked);
        const Sentence text = sentence<"doubt">("doubt"_is = doubt.text, "sure"_is = sure, "more"_is = after);
        const std::string stage(name_of(doubt.stage));
        notices.warnings.push_back({stage, "doubt", doubt.valve, text, Severity::blocking});
        HeldBack held;
        held.head = doubt.head;
        if (!more) held.valve = doubt.valve;
        held.code = HeldCode::doubt;
        held.reason = doubt.text;
        held.frees = sentence<"doubt-frees">("sure"_is = sure);
        if (!doubt.reading) held.sure = sure_words(doubt);
        notices.held_back.push_back(std::move(held));
    }
}

}  // namespace seatwright::job
