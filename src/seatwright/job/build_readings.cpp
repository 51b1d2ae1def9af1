#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "seatwright/job/build.hpp"
#include "seatwright/job/file_names.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

constexpr std::size_t least_trace = 8;  // fewer do not carry the harmonics

class ReadingsReader {
  public:
    ReadingsReader(const Source& source, const Head* head, TrimAt trim)
        : source_(source), head_(head), trim_(trim) {
        if (head)
            for (const auto& v : head->valves) ids_.insert(v.id);
    }

    Built<Readings> run(const Value& readings) {
        each(readings, "touch", [&](const Value& t, const std::string&) { touch(t); });
        each(readings, "level", [&](const Value& t, const std::string&) { level(t); });
        each(readings, "guide", [&](const Value& t, const std::string&) { guide(t); });
        each(readings, "seat", [&](const Value& t, const std::string& path) { seat(t, path); });
        each(readings, "first", [&](const Value& t, const std::string& path) { first(t, path); });
        each(readings, "proof", [&](const Value& t, const std::string& path) { proof(t, path); });
        if (heads_.size() > max_heads)
            fault(readings.line, "reading",
                  fmt::format("names {} heads; at most {} are read", heads_.size(), max_heads));
        return std::move(out_);
    }

  private:
    void fault(int line, std::string key, std::string text) {
        out_.faults.push_back(source_.fault(line, std::move(key), std::move(text)));
    }

    template <class Use>
    void each(const Value& readings, const char* kind, const Use& use) {
        std::size_t index = 0;
        for (const Value* t : readings.tables_of(kind)) {
            const std::string path = fmt::format("reading.{}[{}]", kind, index++);
            note_head(*t, path);
            check_valve(*t, path, std::string_view(kind) == "touch");
            use(*t, path);
        }
    }

    // Every file of a head carries its name, and a control may tell no case: one would overwrite the other.
    void note_head(const Value& t, const std::string& path) {
        const std::string head = t.text_of("head").value_or("1");
        if (!heads_.insert(head).second) return;
        const auto [at, fresh] = in_files_.try_emplace(without_case(in_file_names(head)), head);
        if (!fresh)
            fault(
                t.line_of("head"), path + ".head",
                fmt::format("\"{}\" and \"{}\" come out alike in the names of files (\"{}\": letters, digits "
                            "and \"-\", without case); give the heads names that differ there",
                            at->second, head, at->first));
    }

    void check_valve(const Value& t, const std::string& path, bool unlabelled_allowed) {
        const auto valve = t.text_of("valve");
        if (!valve || !head_ || ids_.contains(*valve) || (unlabelled_allowed && *valve == "?")) return;
        fault(t.line_of("valve"), path + ".valve", no_valve(*head_, *valve));
    }

    template <class R>
    static R common(const Value& t) {
        R out;
        out.head = t.text_of("head").value_or("1");
        out.valve = t.text_of("valve").value_or("");
        out.line = t.line;
        out.sure = t.flag_of("sure").value_or(false);
        out.date = t.text_of("date").value_or("");
        out.by = t.text_of("by").value_or("");
        return out;
    }

    void touch(const Value& t) {
        auto r = common<Touch>(t);
        r.at = {t.number_of("x").value_or(0), t.number_of("y").value_or(0)};
        r.sd = t.number_of("sd");
        r.keep = t.flag_of("keep").value_or(false);
        out_.value.touches.push_back(std::move(r));
    }

    void level(const Value& t) {
        auto r = common<Level>(t);
        r.across = t.text_of("across") == "cant" ? Across::cant : Across::incline;
        r.first = t.number_of("first").value_or(0);
        r.second = t.number_of("second");
        out_.value.levels.push_back(std::move(r));
    }

    void guide(const Value& t) {
        auto r = common<GuideBore>(t);
        r.top = t.number_of("top").value_or(0);
        r.middle = t.number_of("middle").value_or(0);
        r.bottom = t.number_of("bottom").value_or(0);
        out_.value.guides.push_back(std::move(r));
    }

    void seat(const Value& t, const std::string& path) {
        auto r = common<SeatBefore>(t);
        r.stem_height = t.number_of("stem_height");
        r.recession = t.number_of("recession");
        r.cleanup = t.number_of("cleanup");
        r.chamber = t.number_of("chamber");
        r.rest_z = t.number_of("rest_z");
        r.below_deck = t.number_of("below_deck");
        r.face_outside = t.number_of("face_outside");
        r.face_width = t.number_of("face_width");
        if (t.text_of("valve_used") == "setting") r.valve_used = SeatBefore::ValveUsed::setting;
        r.after_deck_cut = t.flag_of("after_deck_cut").value_or(false);
        if (r.face_width && !r.face_outside)
            fault(t.line_of("face_width"), path + ".face_width",
                  "stands without face_outside; the width alone does not say where the old face lies");
        if (t.has("section")) section(t, path + ".section", r);
        out_.value.seats.push_back(std::move(r));
    }

    void section(const Value& t, const std::string& key, SeatBefore& r) {
        const Value& list = *t.find("section");
        if (list.holds != Value::Holds::list) return;  // the table of keys has said so
        for (const auto& point : list.items)
            if (point.items.size() == 2) r.section.emplace_back(point.items[0].number, point.items[1].number);
        if (r.section.size() != list.items.size()) return;
        if (r.section.size() < 2) {
            fault(list.line, key,
                  fmt::format("has {} point(s); a section needs at least 2", r.section.size()));
            return;
        }
        // A stylus goes to and fro: the order in the file means nothing.
        std::stable_sort(r.section.begin(), r.section.end(),
                         [](const Vec2& a, const Vec2& b) { return a.x() < b.x(); });
        if (r.section.front().x() < 0)
            fault(list.line, key, "has a negative radius; r is counted from the guide axis");
    }

    void first(const Value& t, const std::string& path) {
        auto r = common<FirstSeat>(t);
        r.depth = t.number_of("depth");
        r.stem_height = t.number_of("stem_height");
        r.below_deck = t.number_of("below_deck");
        const auto trimmed = t.text_of("trimmed");
        if (trimmed ? *trimmed == "control" : trim_ == TrimAt::control) r.trimmed = TrimmedAt::control;
        const auto plan = t.text_of("plan");
        r.plan = plan == "anew" ? AfterFirst::anew : plan == "shifted" ? AfterFirst::shifted : r.plan;
        r.planned = t.number_of("planned");
        r.gauge_u = t.number_of("gauge_u");
        const int given =
            (t.has("depth") ? 1 : 0) + (t.has("stem_height") ? 1 : 0) + (t.has("below_deck") ? 1 : 0);
        if (given != 1)
            fault(t.line, path,
                  fmt::format("gives {} figures of the first seat; wanted: one of depth, stem_height and "
                              "below_deck",
                              given));
        out_.value.firsts.push_back(std::move(r));
    }

    void proof(const Value& t, const std::string& path) {
        auto r = common<SeatAfter>(t);
        r.trace = t.numbers_of("trace");
        r.angles = t.numbers_of("angles");
        r.runout = t.number_of("runout");
        r.width = t.numbers_of("width");
        r.stem_height = t.number_of("stem_height");
        r.vacuum = t.number_of("vacuum");
        r.gauge_u = t.number_of("gauge_u");
        r.resolution = t.number_of("resolution");
        r.gauge = t.text_of("gauge").value_or("");
        if (const Value* each = t.table_of("gauge"))
            r.gauges = {each->text_of("runout").value_or(""), each->text_of("width").value_or(""),
                        each->text_of("stem_height").value_or("")};
        else if (const Value* gauge = t.find("gauge"); gauge && gauge->holds == Value::Holds::list)
            fault(gauge->line, path + ".gauge",
                  "is a list; wanted: a name, or a table of runout, width and stem_height");
        r.calibrated = t.text_of("calibrated").value_or("");
        r.cutter = t.text_of("cutter").value_or("");
        r.accepted_by = t.text_of("accepted_by").value_or("");
        r.vacuum_after = t.number_of("vacuum_after");
        r.vacuum_seconds = t.number_of("vacuum_seconds");
        const Value* trace = t.find("trace");
        const Value* angles = t.find("angles");
        const bool whole =
            trace && trace->items.size() == r.trace.size() && trace->holds == Value::Holds::list;
        if (whole && r.trace.size() < least_trace)
            fault(trace->line, path + ".trace",
                  fmt::format("has {} readings; a trace needs at least {}", r.trace.size(), least_trace));
        if (angles && !trace)
            fault(angles->line, path + ".angles", "stand without a trace; give the readings too");
        if (whole && angles && angles->holds == Value::Holds::list &&
            angles->items.size() != trace->items.size())
            fault(angles->line, path + ".angles",
                  fmt::format("has {} angles for {} readings of the trace; give one each or leave them out",
                              angles->items.size(), trace->items.size()));
        out_.value.proofs.push_back(std::move(r));
    }

    const Source& source_;
    const Head* head_;
    TrimAt trim_;
    std::set<std::string> ids_;
    std::set<std::string> heads_;
    std::map<std::string, std::string> in_files_;  // a head's name as files have it, and the head
    Built<Readings> out_;
};

}  // namespace

Built<Readings> build_readings(const Source& source, const Head* head, TrimAt trim) {
    const Value* readings = source.root->table_of("reading");
    if (!readings) return {};
    return ReadingsReader(source, head, trim).run(*readings);
}

}  // namespace seatwright::job
