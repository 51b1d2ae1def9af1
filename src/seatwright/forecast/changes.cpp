#include "seatwright/forecast/changes.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "seatwright/base/units.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::forecast {
namespace {

constexpr double seconds_a_touch =
    15;  // common practice, from memory: pilot over the guide, both readings typed
constexpr double seconds_a_blade = 300;  // the same: a blade taken out, set to its diameter and put in
constexpr double t_of_seven = 2.365;     // 97.5 % point of Student's t for 7 degrees of freedom

class Changer {
  public:
    explicit Changer(const ChangeTask& task)
        : task_(task),
          known_(task.as.collected.known),
          frame_(task.as.frame),
          base_(integrated(task.made.batch, task.effort, &task.tables)) {}

    std::vector<Change> run() {
        halves();
        touches();
        blade();
        posts();
        pilots();
        gauges();
        std::stable_sort(out_.begin(), out_.end(),
                         [](const Change& a, const Change& b) { return a.gain > b.gain; });
        return std::move(out_);
    }

  private:
    void add(Change change, const Frame& frame, const Known& known) {
        if (task_.check) task_.check();
        const MadeBatch made = batch_of(task_.job, frame, known);
        const Rates rates = integrated(made.batch, task_.effort, &task_.tables);
        change.pass_rate = rates.good;
        change.gain = rates.good - base_.good;
        double error = 0;
        if (rates.each.size() == base_.each.size() && base_.each.size() > 1) {
            const double n = static_cast<double>(base_.each.size());
            for (std::size_t i = 0; i < base_.each.size(); ++i)
                error += std::pow(rates.each[i] - base_.each[i] - change.gain, 2);
            error = t_of_seven * std::sqrt(error / (n * (n - 1)));
        } else {
            error = std::hypot(rates.error, base_.error);
        }
        change.gain_low = change.gain - error;
        change.gain_high = change.gain + error;
        change.significant = change.gain_low > 0;
        constexpr double rounding = 1e-12;
        if (std::abs(change.gain) < rounding) return;
        out_.push_back(std::move(change));
    }

    void halve(const char* what, double Known::*figure, bool angle = false) {
        const double now = known_.*figure;
        if (now == 0) return;
        Known known = known_;
        known.*figure = now / 2;
        Change change;
        change.what = what;
        change.from = angle ? deg(now) : now;
        change.to = angle ? deg(now) / 2 : now / 2;
        change.unit = angle ? "deg" : "mm";
        add(std::move(change), frame_, known);
    }

    // A length of the plan's own: its largest over the seats stands for it.
    void halve_planned(const char* what, double Known::*times, double largest, bool angle) {
        if (largest <= 0) return;
        Known known = known_;
        known.*times = 0.5;
        Change change;
        change.what = what;
        change.from = angle ? deg(largest) : largest;
        change.to = (angle ? deg(largest) : largest) / 2;
        change.unit = angle ? "deg" : "mm";
        add(std::move(change), frame_, known);
    }

    void halves() {
        const Known& k = known_;
        bool touched = false;
        for (const Places& places : task_.made.places) touched = touched || !places.touched.empty();
        if (!k.position_sd) halve("post clearance", &Known::post_clearance);
        halve("casting scatter", &Known::casting_sd);
        if (touched) halve("touch error", &Known::touch_sd);
        halve("positioning", &Known::positioning_sd);
        double play = 0, residual = 0;
        for (const SeatFrame& one : frame_.seats) {
            play = std::max(play, one.seat.play);
            residual = std::max(residual, one.seat.residual.norm());
        }
        halve_planned("play", &Known::play_times, play, false);
        halve_planned("residual", &Known::residual_times, residual, true);
        halve("pilot runout", &Known::pilot_runout);
        halve("attitude", &Known::level_sd, true);
        halve("guide direction", &Known::guide_angle_sd, true);
        halve("old height", &Known::height_sd);
        if (k.trimmed)
            halve("first seat's gauge", &Known::trim_gauge_u);
        else
            halve("Z zero", &Known::zero_sd);
        halve("depth", &Known::depth_sd);
        halve("depth wear", &Known::depth_wear);
        halve("width", &Known::width_sd);
        halve("width wear", &Known::width_wear);
    }

    void touches() {
        std::size_t now = 0, most = 0;
        for (std::size_t s = 0; s < task_.made.places.size(); ++s) {
            now = std::max(now, task_.made.places[s].touched.size());
            most = std::max(most, task_.made.guides[s].size());
        }
        if (now >= most) return;
        Known known = known_;
        known.touches_planned = false;
        known.touches = static_cast<int>(now) + 1;
        Change change;
        change.what = "touches";
        change.from = static_cast<double>(now);
        change.to = static_cast<double>(now + 1);
        change.unit = "guides a setup";
        change.cost = each_head(seconds_a_touch * static_cast<double>(frame_.setups.size()));
        add(std::move(change), frame_, known);
    }

    void blade() {
        const Known& k = known_;
        if (k.depth_wear == 0 && k.width_wear == 0) return;
        const int now = std::min(k.heads, k.change_every.value_or(k.heads));
        if (now < 2) return;
        Known known = k;
        known.change_every = (now + 1) / 2;
        Change change;
        change.what = "blade changed every";
        change.from = static_cast<double>(now);
        change.to = static_cast<double>(*known.change_every);
        change.unit = "heads";
        const auto changes = [&](int life) { return std::ceil(static_cast<double>(k.heads) / life); };
        change.cost = each_head(seconds_a_blade * (changes(*known.change_every) - changes(now)) / k.heads);
        add(std::move(change), frame_, known);
    }

    // Posts of the shelf's other fixtures that go into the holes.
    void posts() {
        const auto& now = task_.plan.hold.posts;
        if (!now || !now->clearance || known_.position_sd || !task_.job.fixture.post_diameter) return;
        const double hole = *now->clearance + *task_.job.fixture.post_diameter;
        std::set<double> tried{*task_.job.fixture.post_diameter};
        for (const job::Fixture& fixture : task_.job.fixtures) {
            if (!fixture.post_diameter || *fixture.post_diameter >= hole) continue;
            if (!tried.insert(*fixture.post_diameter).second) continue;
            Known known = known_;
            known.post_clearance = hole - *fixture.post_diameter;
            Change change;
            change.what = "post diameter";
            change.from = *task_.job.fixture.post_diameter;
            change.to = *fixture.post_diameter;
            change.cost = of_the_shelf();
            add(std::move(change), frame_, known);
        }
    }

    // Each pilot of the shelf for the guides of a kind it suits, where another leads them now.
    void pilots() {
        for (const PilotOffer& offer : task_.as.offers) {
            if (offer.same) continue;
            Change change;
            change.what = std::string(job::kind_word(offer.kind)) + " pilot";
            change.from = offer.from;
            change.to = task_.job.pilots[offer.pilot].name;
            change.unit = "";
            change.cost = of_the_shelf();
            add(std::move(change), led_by(frame_, offer), known_);
        }
    }

    // Gauges of the shelf that could read the first seat's height, on which the zero is trimmed.
    void gauges() {
        if (!known_.trimmed) return;
        for (const job::Gauge& gauge : task_.job.gauges) {
            if (!gauge.u || !reads(gauge, "stem_height")) continue;
            Known known = known_;
            known.trim_gauge_u = with_step(gauge);
            if (known.trim_gauge_u == known_.trim_gauge_u) continue;
            Change change;
            change.what = "first seat's gauge: " + gauge.name;
            change.from = known_.trim_gauge_u;
            change.to = known.trim_gauge_u;
            change.cost = of_the_shelf();
            add(std::move(change), frame_, known);
        }
    }

    static bool reads(const job::Gauge& gauge, const char* quantity) {
        return gauge.reads.empty() ||
               std::find(gauge.reads.begin(), gauge.reads.end(), quantity) != gauge.reads.end();
    }
    static double with_step(const job::Gauge& gauge) {
        return std::hypot(*gauge.u, gauge.step.value_or(0) / std::sqrt(12.0));
    }

    static Change::Cost of_the_shelf() {
        Change::Cost cost;
        cost.once = true;
        return cost;
    }

    // A second is worth what the estimate asks for a head, over the seconds a head takes.
    Change::Cost each_head(double seconds) const {
        Change::Cost cost;
        cost.seconds_head = seconds;
        const auto& estimate = task_.plan.cut.estimate;
        if (!estimate || task_.plan.cut.seconds_head <= 0) return cost;
        cost.amount = seconds * known_.heads * estimate->head / task_.plan.cut.seconds_head;
        cost.currency = estimate->currency;
        return cost;
    }

    const ChangeTask& task_;
    const Known& known_;
    const Frame& frame_;
    Rates base_;
    std::vector<Change> out_;
};

}  // namespace

std::vector<Change> changes_of(const ChangeTask& task) {
    return Changer(task).run();
}

}  // namespace seatwright::forecast
