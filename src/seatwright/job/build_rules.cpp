#include <fmt/format.h>

#include <set>

#include "seatwright/job/build.hpp"
#include "seatwright/job/said_by.hpp"
#include "seatwright/words/english_job.hpp"

namespace seatwright::job {
namespace {

// Common practice: a touch with float and pilot repeats to about a thousandth of an inch; guides of one
// casting stray by 0.05 to 0.15 mm.
constexpr double usual_touch_sd = 0.02;
constexpr double usual_casting_sd = 0.08;

const Value* first_table(const std::vector<Source>& sources, const char* key) {
    for (const auto& source : sources)
        if (const Value* t = source.root->table_of(key)) return t;
    return nullptr;
}

DepthRules read_depth(const Value& t) {
    DepthRules out;
    out.step = t.number_of("step").value_or(out.step);
    out.stem_spread = t.number_of("stem_spread");
    out.chamber_spread = t.number_of("chamber_spread");
    out.cleanup_margin = t.number_of("cleanup_margin").value_or(0);
    const auto from = t.text_of("from").value_or("touch");
    out.from = from == "deck"       ? DepthFrom::deck
               : from == "datum"    ? DepthFrom::datum
               : from == "finished" ? DepthFrom::finished
                                    : DepthFrom::touch;
    if (t.text_of("to") == "height") out.to = DepthTo::height;
    out.zero_on = t.text_of("zero_on");
    out.deck_at = t.point_of("deck_at");
    out.block = t.number_of("block");
    out.feeler = t.number_of("feeler").value_or(0);
    for (const Value* s : t.tables_of("seat")) {
        SeatOrder order;
        order.valve = s->text_of("valve").value_or("");
        order.depth = s->number_of("depth");
        if (const Value* finish = s->table_of("finish")) order.finish = read_finish(*finish);
        order.line = s->line;
        out.seats.push_back(std::move(order));
    }
    if (t.text_of("plan") == "together") out.plan = DepthPlanning::together;
    out.deck_cut = t.number_of("deck_cut").value_or(0);
    out.bridge_min = t.number_of("bridge_min");
    out.spring_shims = t.numbers_of("spring_shims");
    out.lash_shim_step = t.number_of("lash_shim_step");
    out.swept = t.number_of("swept");
    return out;
}

CutRules read_cut(const Value& t) {
    CutRules out;
    if (const auto pilot = t.text_of("pilot"))
        out.pilot = *pilot == "carried"   ? PilotUse::carried
                    : *pilot == "planted" ? PilotUse::planted
                    : *pilot == "live"    ? PilotUse::live
                                          : PilotUse::none;
    out.approach = t.number_of("approach");
    out.finish_depth = t.number_of("finish_depth").value_or(out.finish_depth);
    out.first_short = t.number_of("first_short").value_or(out.first_short);
    out.first = t.text_of("first");
    out.first_stop = t.flag_of("first_stop").value_or(true);
    out.trim_max = t.number_of("trim_max").value_or(out.trim_max);
    out.enter_feed = t.number_of("enter_feed").value_or(out.enter_feed);
    out.enter_min = t.number_of("enter_min");
    out.entry_rpm = t.number_of("entry_rpm");
    if (t.text_of("speed") == "fastest") out.speed = SpeedRule::fastest;
    return out;
}

void check_orders(const Source& source, const Value& depth, const DepthRules& rules, Faults& faults) {
    std::set<std::string> seen;
    for (std::size_t i = 0; i < rules.seats.size(); ++i) {
        const SeatOrder& order = rules.seats[i];
        const auto blame = [&](std::string text) {
            faults.push_back(source.fault(order.line, fmt::format("depth.seat[{}]", i), std::move(text)));
        };
        if (order.depth.has_value() == order.finish.has_value())
            blame("wanted: one of depth and finish");
        else if (order.finish)
            if (const std::string wrong = fault_of(*order.finish); !wrong.empty()) blame("finish " + wrong);
        if (!order.valve.empty() && !seen.insert(order.valve).second)
            blame(fmt::format("is the second for valve {}; one is enough", order.valve));
    }
    if (rules.deck_at && rules.block)
        faults.push_back(source.fault(depth.line_of("block"), "depth.block",
                                      "stands beside deck_at; Z0 is taken one way: give one of the two"));
}

// What only the job file itself can say: figures confirmed, and things a lead lets pass.
void read_said(const Source& source, Rules& rules, Faults& faults) {
    if (const Value* list = source.root->find("sure"))
        for (const auto& item : list->items) {
            if (item.holds != Value::Holds::text) continue;  // the table of keys has said so
            auto [words, said_by] = words_and_who(item.text);
            rules.sure.push_back({std::move(words), item.line, LengthUnit::mm, std::move(said_by)});
            if (item.text.find('=') == std::string::npos)
                faults.push_back(source.fault(item.line, "sure",
                                              fmt::format("\"{}\" is not a key and its value; wanted such as "
                                                          "\"head.valve.1I.z = 0.35 in\"",
                                                          item.text)));
        }
    for (const Value* t : source.root->tables_of("allow"))
        rules.allow.push_back({t->text_of("what").value_or(""), t->text_of("why").value_or(""),
                               t->text_of("by").value_or(""), t->line});
}

FindRules read_find(const Value& t) {
    FindRules out;
    out.touch_sd = t.number_of("touch_sd").value_or(usual_touch_sd);
    out.casting_sd = t.number_of("casting_sd").value_or(usual_casting_sd);
    out.touch_sd_assumed = !t.has("touch_sd");
    out.casting_sd_assumed = !t.has("casting_sd");
    out.yaw_sd = t.number_of("yaw_sd");
    out.positioning_sd = t.number_of("positioning_sd").value_or(0);
    out.enter_target = t.number_of("enter_target").value_or(out.enter_target);
    out.learn_min_heads = static_cast<int>(t.number_of("learn_min_heads").value_or(out.learn_min_heads));
    if (const Value* c = t.table_of("carry"))
        out.carry = Carry{Vec2(c->number_of("x").value_or(0), c->number_of("y").value_or(0)),
                          c->number_of("yaw").value_or(0), c->number_of("sd").value_or(0),
                          c->number_of("yaw_sd").value_or(0)};
    return out;
}

}  // namespace

Built<Rules> build_rules(const std::vector<Source>& sources) {
    Built<Rules> out;
    for (const auto& source : sources)
        if (const Value* t = source.root->table_of("depth")) {
            out.value.depth = read_depth(*t);
            check_orders(source, *t, out.value.depth, out.faults);
            break;
        }
    const Value empty;
    if (const Value* t = first_table(sources, "cut")) out.value.cut = read_cut(*t);
    read_said(sources.front(), out.value, out.faults);
    const Value* find = first_table(sources, "find");
    out.value.find = read_find(find ? *find : empty);
    return out;
}

std::vector<Sentence> assumed_of(const FindRules& find) {
    std::vector<Sentence> said;
    const auto say = [&](const char* key, double mm) {
        said.push_back(sentence<"find-assumed">("key"_is = seatwright::Key{std::string("find.") + key},
                                                "value"_is = as_length(mm)));
    };
    if (find.touch_sd_assumed) say("touch_sd", find.touch_sd);
    if (find.casting_sd_assumed) say("casting_sd", find.casting_sd);
    return said;
}

}  // namespace seatwright::job
