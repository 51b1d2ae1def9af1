#include "seatwright/forecast/known.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/forecast/gauges.hpp"
#include "seatwright/forecast/record.hpp"
#include "seatwright/shape/first_read.hpp"
#include "seatwright/shape/zero.hpp"
#include "seatwright/words/english_forecast.hpp"

namespace seatwright::forecast {
namespace {

// Common practice, from memory: what a careful shop reaches with dial, level and float in order.
constexpr int usual_heads = 40;
constexpr double usual_level_sd = rad(0.02), usual_guide_angle_sd = rad(0.01);
constexpr double usual_depth_sd = 0.01, usual_width_sd = 0.02;
constexpr double usual_pilot_runout = 0.005;
constexpr double usual_clearance = 0.3;  // of bolt holes over posts
// How far a figure of common practice is to be trusted: about a third either way (JCGM 100 G.4.2 for a
// relative uncertainty of one third gives 4 to 5 degrees of freedom).
constexpr double practice_dof = 5;

const char* in_words(prove::Quantity quantity) {
    return quantity == prove::Quantity::stem_height ? "stem height" : prove::word(quantity);
}

class Collector {
  public:
    Collector(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof)
        : job_(job), plan_(plan), rules_(job.forecast), record_(read_record(job, plan, proof)) {}

    Collected run() {
        batch();
        posts();
        places();
        attitude();
        depths();
        widths();
        tool();
        gauges();
        return std::move(out_);
    }

  private:
    void say(Input input) { out_.inputs.push_back(std::move(input)); }
    void assume(Sentence text) { out_.notices.assumptions.push_back(std::move(text)); }

    // A standard deviation: the key, the record, common practice.
    void sd(const char* key, double Known::*figure, std::optional<double> said,
            const std::optional<Estimate>& record, double practice, bool angle = false) {
        const double value = said ? *said : record ? record->value : practice;
        out_.known.*figure = value;
        Input input{std::string("forecast.") + key, angle ? deg(value) : value, angle ? "deg" : "mm"};
        input.figure = figure;
        input.from = said ? From::job : record ? From::record : From::practice;
        if (!said) input.dof = record ? record->dof : practice_dof;
        if (!said && record) input.less = record->less;
        say(std::move(input));
    }

    void wear(const char* key, double Known::*figure, std::optional<double> said,
              const std::optional<Estimate>& record) {
        // A drift of prove is that of a head: every cutter's seats of it together.
        const double seats = std::max(1.0, seats_of_a_cutter());
        const double value = said ? *said : record ? record->value / seats : 0;
        out_.known.*figure = value;
        Input input{std::string("forecast.") + key, value, "mm"};
        input.figure = figure;
        input.from = said ? From::job : record ? From::record : From::practice;
        if (!said && record) input.standard_error = record->standard_error / seats;
        say(std::move(input));
    }

    double seats_of_a_cutter() const {
        double kinds = 0;
        for (const auto kind : job::both_kinds)
            kinds += std::any_of(job_.head.valves.begin(), job_.head.valves.end(),
                                 [&](const job::Valve& v) { return v.kind == kind; })
                         ? 1
                         : 0;
        return kinds > 0 ? static_cast<double>(job_.head.valves.size()) / kinds : 1;
    }

    void batch() {
        Known& k = out_.known;
        k.heads = rules_.heads.value_or(usual_heads);
        say({"forecast.heads", static_cast<double>(k.heads), "heads",
             rules_.heads ? From::job : From::practice});
        k.change_every = rules_.change_every;
        if (k.change_every)
            say({"forecast.change_every", static_cast<double>(*k.change_every), "heads", From::job});
    }

    void posts() {
        Known& k = out_.known;
        const auto& posts = plan_.hold.posts;
        if (posts && posts->clearance && posts->span > 0) {
            k.post_clearance = *posts->clearance;
            k.post_span = posts->span;
            Input input{"post clearance", k.post_clearance, "mm", From::job};
            input.figure = &Known::post_clearance;
            say(std::move(input));
            say({"post span", k.post_span, "mm", From::job});
        } else if (!job_.find.carry) {
            double low = 0, high = 0;
            for (const job::Valve& v : job_.head.valves) {
                low = std::min(low, v.seat.x());
                high = std::max(high, v.seat.x());
            }
            k.post_clearance = usual_clearance;
            k.post_span = posts && posts->span > 0 ? posts->span : std::max(100.0, high - low);
            Input input{"post clearance", k.post_clearance, "mm", From::practice};
            input.figure = &Known::post_clearance;
            say(std::move(input));
            say({"post span", k.post_span, "mm", From::practice});
            out_.notices.warnings.push_back(
                {"forecast", "posts-not-known", std::nullopt, sentence<"posts-not-known">(), Severity::note});
        }
        if (job_.find.carry) {
            k.position_sd = job_.find.carry->sd;
            k.yaw_sd = job_.find.carry->yaw_sd;
            say({"find.carry.sd", *k.position_sd, "mm", From::job});
            say({"find.carry.yaw_sd", deg(*k.yaw_sd), "deg", From::job});
        } else if (job_.find.yaw_sd) {
            k.yaw_sd = job_.find.yaw_sd;
            say({"find.yaw_sd", deg(*k.yaw_sd), "deg", From::job});
        }
        k.touched_heads = record_.touched_heads;
        if (k.touched_heads > 0)
            say({"heads touched on record", static_cast<double>(k.touched_heads), "heads", From::record});
        else
            assume(sentence<"many-touched">());
    }

    void places() {
        Known& k = out_.known;
        k.touches = rules_.touches.value_or(record_.touches);
        k.touches_planned = rules_.touches_planned;
        k.rezero = rules_.rezero;
        if (!k.touches_planned)
            say({"forecast.touches", static_cast<double>(k.touches), "guides a setup",
                 rules_.touches              ? From::job
                 : record_.touched_heads > 0 ? From::record
                                             : From::practice});
        k.touch_sd = job_.find.touch_sd;
        Input touch{"find.touch_sd", k.touch_sd, "mm",
                    job_.find.touch_sd_assumed ? From::practice : From::job};
        touch.figure = &Known::touch_sd;
        if (job_.find.touch_sd_assumed) touch.dof = practice_dof;
        say(std::move(touch));
        k.casting_ratio.assign(job_.head.valves.size(), 1.0);
        Input casting{"find.casting_sd", job_.find.casting_sd, "mm",
                      job_.find.casting_sd_assumed ? From::practice : From::job};
        if (job_.find.casting_sd_assumed) casting.dof = practice_dof;
        if (record_.casting_sd) {
            casting.value = record_.casting_sd->value;
            casting.from = From::record;
            casting.dof = record_.casting_sd->dof;
            // With the error of the mean place that was learned of it.
            for (const find::Learned& guide : plan_.find.learned)
                if (casting.value > 0)
                    k.casting_ratio[guide.valve] =
                        std::hypot(casting.value, guide.sd_of_mean.norm() / std::sqrt(2.0)) / casting.value;
        }
        k.casting_sd = casting.value;
        casting.figure = &Known::casting_sd;
        say(std::move(casting));
        k.positioning_sd = job_.find.positioning_sd;
        Input positioning{"find.positioning_sd", k.positioning_sd, "mm", From::job};
        positioning.figure = &Known::positioning_sd;
        say(std::move(positioning));
        k.resolution = job_.machine.resolution;
        say({"machine.resolution", k.resolution, "mm", From::job});
    }

    void attitude() {
        sd("level_sd", &Known::level_sd, rules_.level_sd, record_.level_sd, usual_level_sd, true);
        sd("guide_angle_sd", &Known::guide_angle_sd, rules_.guide_angle_sd, record_.guide_angle_sd,
           usual_guide_angle_sd, true);
        const double share = rules_.share.value_or(1);
        out_.known.share = share;
        say({"forecast.share", share, "", rules_.share ? From::job : From::practice});
    }

    void depths() {
        Known& k = out_.known;
        const shape::ZeroSds usual;
        sd("depth_sd", &Known::depth_sd, rules_.depth_sd, record_.depth_sd, usual_depth_sd);
        wear("depth_wear", &Known::depth_wear, rules_.depth_wear, record_.depth_wear_head);
        if (job_.depth.to == job::DepthTo::height) {
            k.height_sd = 0;
            say({"forecast.height_sd", 0, "mm", From::job});
            if (rules_.height_sd) assume(sentence<"no-height-reading">());
        } else {
            sd("height_sd", &Known::height_sd, rules_.height_sd, std::nullopt, usual.height);
        }
        k.trimmed = job_.cut.first_stop && !rules_.zero_sd;
        if (k.trimmed) {
            k.trim_gauge_u = shape::first_gauge_sd;
            From from = From::practice;
            if (rules_.height_gauge_u) {
                k.trim_gauge_u = *rules_.height_gauge_u;
                from = From::job;
            }
            for (const job::FirstSeat& first : job_.readings.firsts)
                if (first.gauge_u) {
                    k.trim_gauge_u = *first.gauge_u;
                    from = From::record;
                }
            Input input{"first seat gauge u", k.trim_gauge_u, "mm", from};
            input.figure = &Known::trim_gauge_u;
            if (from == From::practice) input.dof = practice_dof;
            say(std::move(input));
            assume(sentence<"trimmed-on-first">());
        } else {
            const bool touch = job_.depth.from == job::DepthFrom::touch;
            sd("zero_sd", &Known::zero_sd, rules_.zero_sd, std::nullopt,
               touch ? usual.touch : usual.finished);
            if (rules_.zero_sd && job_.cut.first_stop) assume(sentence<"zero-sd-left">());
        }
    }

    void widths() {
        sd("width_sd", &Known::width_sd, rules_.width_sd, record_.width_sd, usual_width_sd);
        wear("width_wear", &Known::width_wear, rules_.width_wear, record_.width_wear_head);
    }

    void tool() {
        sd("pilot_runout", &Known::pilot_runout, rules_.pilot_runout, std::nullopt, usual_pilot_runout);
        const auto& tool = job_.machine.tool_float;
        if (tool && tool->kind == job::Float::Kind::commanded)
            assume(sentence<"float-freed">());
        else if (job_.machine.float_stiffness)
            say({"machine.float_stiffness", *job_.machine.float_stiffness / 1000, "N/um", From::job});
        else
            assume(sentence<"floats-freely">());
    }

    // What its verdicts are given with.
    void gauge(std::optional<double> said, prove::Quantity quantity) {
        const JudgedWith with = judged_with(job_, quantity, said);
        out_.known.*figure_of(quantity) = with.u;
        if (!with.u) return;
        out_.known.gauge_names[static_cast<std::size_t>(quantity)] = with.name;
        say({key_of(quantity), *with.u, "mm", with.from});
        if (with.of_several > 1)
            assume(sentence<"coarsest-gauge">("what"_is = in_words(quantity), "gauge"_is = with.name));
        if (!with.overdue.empty())
            out_.notices.warnings.push_back(
                {"forecast", "gauge-overdue", std::nullopt,
                 sentence<"gauge-overdue">("what"_is = in_words(quantity), "gauge"_is = with.name,
                                           "until"_is = with.overdue),
                 Severity::note});
    }

    void gauges() {
        gauge(rules_.gauge_u, prove::Quantity::runout);
        gauge(rules_.width_gauge_u, prove::Quantity::width);
        gauge(rules_.height_gauge_u, prove::Quantity::stem_height);
    }

    const job::Job& job_;
    const plan::Plan& plan_;
    const job::ForecastRules& rules_;
    FromRecord record_;
    Collected out_;
};

}  // namespace

const char* word(From from) {
    return from == From::record ? "record" : from == From::job ? "job" : "common practice";
}

double Known::place_sd() const {
    const double one = position_sd ? *position_sd : post_clearance / 4;
    return one * (touched_heads > 0 ? std::sqrt(1 + 1.0 / touched_heads) : 1);
}

double Known::turn_sd() const {
    const double one = yaw_sd          ? *yaw_sd
                       : post_span > 0 ? std::sqrt(2.0) * post_clearance / (4 * post_span)
                                       : 0;
    return one * (touched_heads > 0 ? std::sqrt(1 + 1.0 / touched_heads) : 1);
}

Collected collect(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof) {
    return Collector(job, plan, proof).run();
}

}  // namespace seatwright::forecast
