// find as JSON: the contract's keys, and beside them what a screen needs (all lengths mm, angles deg).
#include <cmath>
#include <nlohmann/json.hpp>

#include "seatwright/report/report.hpp"
#include "seatwright/report/values_json.hpp"

namespace seatwright::report {
namespace {

using Json = nlohmann::ordered_json;

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
    return Json::array({number(v.x()), number(v.y())});
}

Json valve_id(const job::Job& job, std::optional<std::size_t> valve) {
    return valve ? Json(job.head.valves[*valve].id) : Json(nullptr);
}

Json guide_json(const job::Job& job, const find::FoundGuide& guide) {
    const double sd_x = std::sqrt(std::max(0.0, guide.covariance(0, 0)));
    const double sd_y = std::sqrt(std::max(0.0, guide.covariance(1, 1)));
    const double both = sd_x * sd_y;
    Json json = with_room(13);
    json["id"] = job.head.valves[guide.valve].id;
    json["x_mm"] = number(guide.at.x());
    json["y_mm"] = number(guide.at.y());
    json["sd_x_mm"] = guide.placed ? number(sd_x) : Json(nullptr);
    json["sd_y_mm"] = guide.placed ? number(sd_y) : Json(nullptr);
    json["corr"] = guide.placed ? number(both > 0 ? guide.covariance(0, 1) / both : 0.0) : Json(nullptr);
    json["program_x_mm"] = number(guide.programmed.x());
    json["program_y_mm"] = number(guide.programmed.y());
    json["enter_probability"] = number(guide.enter_probability);
    json["entry_clearance_mm"] = number(guide.entry_clearance);
    json["touched"] = guide.touched;
    json["suspect"] = guide.suspect;
    json["innovation2"] = number(guide.innovation2);
    return json;
}

Json setup_json(const job::Job& job, const find::FoundSetup& setup, const Speech& speech) {
    Json json = with_room(20);
    json["id"] = setup.id;
    json["yaw_deg"] = number(deg(setup.yaw));
    json["yaw_sd_deg"] = setup.yaw_known ? number(deg(setup.yaw_sd)) : Json(nullptr);
    json["offset_mm"] = pair_of(setup.offset);
    json["chi2"] = number(setup.chi2);
    json["dof"] = setup.dof;
    json["p_value"] = number(setup.p_value);
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
        json["assignments"].push_back(Json{{"x_mm", number(touch.at.x())},
                                           {"y_mm", number(touch.at.y())},
                                           {"valve", valve_id(job, one.valve)},
                                           {"runner_up_odds", number(one.runner_up_odds)}});
    }
    json["set_aside"] = Json::array();
    for (const std::size_t t : setup.set_aside) {
        const job::Touch& touch = job.readings.touches[t];
        json["set_aside"].push_back(
            Json{{"valve", touch.valve}, {"x_mm", number(touch.at.x())}, {"y_mm", number(touch.at.y())}});
    }
    json["square"] = nullptr;
    if (setup.square)
        json["square"] =
            Json{{"move_mm", number(setup.square->move)},
                 {"post", std::string(1, setup.square->post)},
                 {"shift_mm", {number(setup.square->shift.x()), number(setup.square->shift.y())}},
                 {"worth_it", setup.square->worth_it}};
    json["least_enter_probability"] = number(setup.least_enter_probability);
    json["next_touch"] = valve_id(job, setup.next_touch);
    json["touches_to_target"] = setup.touches_to_target ? Json(*setup.touches_to_target) : Json(nullptr);
    return json;
}

Json pilots_json(const job::Job& job, const std::vector<find::PilotChoice>& pilots, const Speech& speech) {
    Json all = Json::array();
    for (const find::PilotChoice& choice : pilots)
        all.push_back(Json{{"valve", job.head.valves[choice.valve].id},
                           {"pilot", choice.pilot ? Json(job.pilots[*choice.pilot].name) : Json(nullptr)},
                           {"play_mm", number(choice.play)},
                           {"guide", choice.repair ? "repair" : "ok"},
                           {"reason", in_words(choice.reason, speech)},
                           {"lock_depth_mm", number(choice.lock_depth)}});
    return all;
}

Json blind_json(const find::BlindRun& blind, Extent extent) {
    Json json{{"least_enter_probability", number(blind.least_enter_probability)}};
    if (extent == Extent::page) return json;
    const find::BlindRun::OfHead& head = blind.of_head();
    json["head_enter_probability"] = number(head.enter_probability);
    json["post_clearance_for_target_mm"] = number(head.clearance_for_target);
    json["mouth_for_target_mm"] = number(head.mouth_for_target);
    return json;
}

}  // namespace

Json json_of(const job::Job& job, const find::Find& find, const Speech& speech, Extent extent) {
    Json json = with_room(6);
    json["heads"] = Json::array();
    for (const find::FoundHead& head : find.heads) {
        Json one = with_room(4);
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
                                       {"scatter_mm", number(one.scatter)},
                                       {"dof", number(one.dof)}});
    json["repeatability"] = Json::array();
    for (const find::Repeatability& one : find.repeatability)
        json["repeatability"].push_back(Json{{"setup", one.setup},
                                             {"alike_sd_mm", number(one.alike)},
                                             {"own_sd_mm", number(one.own)},
                                             {"heads", one.heads}});
    return json;
}

}  // namespace seatwright::report
