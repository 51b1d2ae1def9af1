#include <fmt/format.h>

#include "seatwright/base/length_words.hpp"
#include "seatwright/job/build.hpp"

namespace seatwright::job {
namespace {

// Common practice: a touch with float and pilot repeats to about a thousandth of an inch; guides of one
// casting stray by 0.05 to 0.15 mm.
constexpr double usual_touch_sd = 0.02;
constexpr double usual_casting_sd = 0.08;

const Entry* first_table(const std::vector<Source>& sources, const char* key) {
    for (const auto& source : sources)
        if (const Entry* t = source.root->table_of(key)) return t;
    return nullptr;
}

DepthRules read_depth(const Entry& t) {
    DepthRules out;
    out.step = t.number_of("step").value_or(out.step);
    out.stem_spread = t.number_of("stem_spread");
    out.chamber_spread = t.number_of("chamber_spread");
    out.cleanup_margin = t.number_of("cleanup_margin").value_or(0);
    const auto from = t.text_of("from").value_or("touch");
    out.from = from == "deck" ? DepthFrom::deck : from == "datum" ? DepthFrom::datum : DepthFrom::touch;
    if (t.text_of("plan") == "together") out.plan = DepthPlanning::together;
    out.deck_cut = t.number_of("deck_cut").value_or(0);
    out.bridge_min = t.number_of("bridge_min");
    out.spring_shims = t.numbers_of("spring_shims");
    out.lash_shim_step = t.number_of("lash_shim_step");
    out.swept = t.number_of("swept");
    return out;
}

FindRules read_find(const Entry& t) {
    FindRules out;
    out.touch_sd = t.number_of("touch_sd").value_or(usual_touch_sd);
    out.casting_sd = t.number_of("casting_sd").value_or(usual_casting_sd);
    out.touch_sd_assumed = !t.has("touch_sd");
    out.casting_sd_assumed = !t.has("casting_sd");
    out.yaw_sd = t.number_of("yaw_sd");
    out.positioning_sd = t.number_of("positioning_sd").value_or(0);
    out.enter_target = t.number_of("enter_target").value_or(out.enter_target);
    out.learn_min_heads = static_cast<int>(t.number_of("learn_min_heads").value_or(out.learn_min_heads));
    if (const Entry* c = t.table_of("carry"))
        out.carry = Carry{Vec2(c->number_of("x").value_or(0), c->number_of("y").value_or(0)),
                          c->number_of("yaw").value_or(0), c->number_of("sd").value_or(0),
                          c->number_of("yaw_sd").value_or(0)};
    return out;
}

}  // namespace

Built<Rules> build_rules(const std::vector<Source>& sources) {
    Built<Rules> out;
    if (const Entry* t = first_table(sources, "depth")) out.value.depth = read_depth(*t);
    const Entry empty;
    const Entry* find = first_table(sources, "find");
    out.value.find = read_find(find ? *find : empty);
    return out;
}

std::vector<std::string> assumed_of(const FindRules& find, LengthUnit unit) {
    std::vector<std::string> said;
    const auto say = [&](const char* key, double mm) {
        said.push_back(fmt::format("assumes find.{} = {} (common practice): the job does not give it", key,
                                   length_words(mm, unit)));
    };
    if (find.touch_sd_assumed) say("touch_sd", find.touch_sd);
    if (find.casting_sd_assumed) say("casting_sd", find.casting_sd);
    return said;
}

}  // namespace seatwright::job
