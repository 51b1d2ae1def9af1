// find as JSON: the contract's keys, and beside them what a screen needs (all lengths mm, angles deg).
#include <cmath>
#include <nlohmann/json.hpp>

#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::report {
namespace {

using Json = JsonText;

const char* pattern_words(find::Pattern pattern) {
    switch (pattern) {
        case find::Pattern::end_for_end:
            return "end for end";
        case find::Pattern::mirrored:
            return "mirrored";
        case find::Pattern::mirrored_end_for_end:
            return "mirrored end for end";
        case find::Pattern::as_declared:
            break;
    }
    return "as declared";
}

Json pair_of(const Vec2& v) {
    return Json::array({as_json(v.x()), as_json(v.y())});
}

Json valve_id(const job::Job& job, std::optional<std::size_t> valve) {
    return valve ? Json(job.head.valves[*valve].id) : Json(nullptr);
}

Json guide_json(const job::Job& job, const find::FoundGuide& guide) {
    const double sd_x = std::sqrt(std::max(0.0, guide.covariance(0, 0)));
    const double sd_y = std::sqrt(std::max(0.0, guide.covariance(1, 1)));
    const double both = sd_x * sd_y;
    Json json = Json::object();
    json["id"] = job.head.valves[guide.valve].id;
    json["x_mm"] = as_json(guide.at.x());
    json["y_mm"] = as_json(guide.at.y());
    json["sd_x_mm"] = guide.placed ? as_json(sd_x) : Json(nullptr);
    json["sd_y_mm"] = guide.placed ? as_json(sd_y) : Json(nullptr);
    json["corr"] = guide.placed ? as_json(both > 0 ? guide.covariance(0, 1) / both : 0.0) : Json(nullptr);
    json["program_x_mm"] = as_json(guide.programmed.x());
    json["program_y_mm"] = as_json(guide.programmed.y());
    json["enter_probability"] = as_json(guide.enter_probability);
    json["entry_clearance_mm"] = as_json(guide.entry_clearance);
    json["touched"] = guide.touched;
    json["suspect"] = guide.suspect;
    json["innovation2"] = as_json(guide.innovation2);
    return json;
}

Json setup_json(const job::Job& job, const find::FoundSetup& setup, const Speech& speech) {
    Json json = Json::object();
    json["id"] = setup.id;
    json["yaw_deg"] = as_json(deg(setup.yaw));
    json["yaw_sd_deg"] = setup.yaw_known ? as_json(deg(setup.yaw_sd)) : Json(nullptr);
    json["offset_mm"] = pair_of(setup.offset);
    json["chi2"] = as_json(setup.chi2);
    json["dof"] = setup.dof;
    json["p_value"] = as_json(setup.p_value);
    json["pattern"] = pattern_words(setup.pattern);
    json["pattern_undecidable"] = setup.pattern_undecidable;
    json["looks_alike"] = setup.alike.empty() ? Json(nullptr) : Json(in_words(setup.alike, speech));
    json["learned_from_heads"] = setup.learned_from;
    json["datum_assumed"] = setup.datum_assumed;
    json["guides"] = Json::array();
    for (const find::FoundGuide& guide : setup.guides) json["guides"].push_back(guide_json(job, guide));
    json["assignments"] = Json::array();
    for (const find::Assignment& one : setup.assignments) {
        const job::Touch& touch = job.readings.touches[one.touch];
        json["assignments"].push_back(Json{{"x_mm", as_json(touch.at.x())},
                                           {"y_mm", as_json(touch.at.y())},
                                           {"valve", valve_id(job, one.valve)},
                                           {"runner_up_odds", as_json(one.runner_up_odds)}});
    }
    json["set_aside"] = Json::array();
    for (const std::size_t t : setup.set_aside) {
        const job::Touch& touch = job.readings.touches[t];
        json["set_aside"].push_back(
            Json{{"valve", touch.valve}, {"x_mm", as_json(touch.at.x())}, {"y_mm", as_json(touch.at.y())}});
    }
    json["square"] = nullptr;
    if (setup.square)
        json["square"] = Json{{"move_mm", as_json(setup.square->move)},
                              {"post", std::string(1, setup.square->post)},
                              {"shift_mm", pair_of(setup.square->shift)},
                              {"worth_it", setup.square->worth_it}};
    json["least_enter_probability"] = as_json(setup.least_enter_probability);
    json["next_touch"] = valve_id(job, setup.next_touch);
    json["touches_to_target"] = setup.touches_to_target ? Json(*setup.touches_to_target) : Json(nullptr);
    return json;
}

Json pilots_json(const job::Job& job, const std::vector<find::PilotChoice>& pilots, const Speech& speech) {
    Json all = Json::array();
    for (const find::PilotChoice& choice : pilots)
        all.push_back(Json{{"valve", job.head.valves[choice.valve].id},
                           {"pilot", choice.pilot ? Json(job.pilots[*choice.pilot].name) : Json(nullptr)},
                           {"play_mm", as_json(choice.play)},
                           {"guide", choice.repair ? "repair" : "ok"},
                           {"reason", in_words(choice.reason, speech)},
                           {"lock_depth_mm", as_json(choice.lock_depth)}});
    return all;
}

Json blind_json(const find::BlindRun& blind, Extent extent) {
    Json json{{"least_enter_probability", as_json(blind.least_enter_probability)}};
    if (extent == Extent::page) return json;
    const find::BlindRun::OfHead& head = blind.of_head();
    json["head_enter_probability"] = as_json(head.enter_probability);
    json["post_clearance_for_target_mm"] = as_json(head.clearance_for_target);
    json["mouth_for_target_mm"] = as_json(head.mouth_for_target);
    return json;
}

}  // namespace

JsonMembers members_of(const job::Job& job, const find::Find& find, const Speech& speech, Extent extent) {
    JsonMembers json;
    json["heads"] = Json::array();
    for (const find::FoundHead& head : find.heads) {
        Json one = Json::object();
        one["head"] = head.head;
        one["setups"] = Json::array();
        for (const find::FoundSetup& setup : head.setups)
            one["setups"].push_back(setup_json(job, setup, speech));
        one["pilots"] = pilots_json(job, head.pilots, speech);
        json["heads"].push_back(std::move(one));
    }
    json["blind_run"] = find.blind_run ? blind_json(*find.blind_run, extent) : Json(nullptr);
    json["pilots"] = pilots_json(job, find.pilots, speech);
    json["learned"] = Json::array();
    for (const find::Learned& one : find.learned)
        json["learned"].push_back(Json{{"valve", job.head.valves[one.valve].id},
                                       {"mean_mm", pair_of(one.mean)},
                                       {"sd_of_mean_mm", pair_of(one.sd_of_mean)},
                                       {"scatter_mm", as_json(one.scatter)},
                                       {"dof", as_json(one.dof)}});
    json["repeatability"] = Json::array();
    for (const find::Repeatability& one : find.repeatability)
        json["repeatability"].push_back(Json{{"setup", one.setup},
                                             {"alike_sd_mm", as_json(one.alike)},
                                             {"own_sd_mm", as_json(one.own)},
                                             {"heads", one.heads}});
    return json;
}

nlohmann::ordered_json json_of(const job::Job& job, const find::Find& find, const Speech& speech,
                               Extent extent) {
    return json_of(members_of(job, find, speech, extent));
}

}  // namespace seatwright::report
