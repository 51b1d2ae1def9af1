#include "seatwright/forecast/changes.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "seatwright/base/units.hpp"
#include "seatwright/cut/known.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::forecast {
namespace {

constexpr double seconds_a_touch =
    15;  // common practice, from memory: pilot over the guide, both readings typed
constexpr double seconds_a_blade = 300;  // the same: a blade taken out, set to its diameter and put in
constexpr double loosest = 0.25;         // mm of play at the seat: a pilot for another guide
constexpr double t_of_seven = 2.365;     // 97.5 % point of Student's t for 7 degrees of freedom

class Changer {
  public:
    explicit Changer(const ChangeTask& task)
        : task_(task), base_(integrated(task.made.batch, task.effort, &task.tables)) {}

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
        const double now = task_.known.*figure;
        if (now == 0) return;
        Known known = task_.known;
        known.*figure = now / 2;
        Change change;
        change.what = what;
        change.from = angle ? deg(now) : now;
        change.to = angle ? deg(now) / 2 : now / 2;
        change.unit = angle ? "deg" : "mm";
        add(std::move(change), task_.frame, known);
    }

    // A length of the plan's own: its largest over the seats stands for it.
    void halve_planned(const char* what, double Known::*times, double largest, bool angle) {
        if (largest <= 0) return;
        Known known = task_.known;
        known.*times = 0.5;
        Change change;
        change.what = what;
        change.from = angle ? deg(largest) : largest;
        change.to = (angle ? deg(largest) : largest) / 2;
        change.unit = angle ? "deg" : "mm";
        add(std::move(change), task_.frame, known);
    }

    void halves() {
        const Known& k = task_.known;
        bool touched = false;
        for (const Places& places : task_.made.places) touched = touched || !places.touched.empty();
        if (!k.position_sd) halve("post clearance", &Known::post_clearance);
        halve("casting scatter", &Known::casting_sd);
        if (touched) halve("touch error", &Known::touch_sd);
        halve("positioning", &Known::positioning_sd);
        double play = 0, residual = 0;
        for (const SeatFrame& one : task_.frame.seats) {
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
        Known known = task_.known;
        known.touches_planned = false;
        known.touches = static_cast<int>(now) + 1;
        Change change;
        change.what = "touches";
        change.from = static_cast<double>(now);
        change.to = static_cast<double>(now + 1);
        change.unit = "guides a setup";
        change.cost = each_head(seconds_a_touch * static_cast<double>(task_.frame.setups.size()));
        add(std::move(change), task_.frame, known);
    }

    void blade() {
        const Known& k = task_.known;
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
        add(std::move(change), task_.frame, known);
    }

    // Posts of the shelf's other fixtures that go into the holes.
    void posts() {
        const auto& now = task_.plan.hold.posts;
        if (!now || !now->clearance || task_.known.position_sd || !task_.job.fixture.post_diameter) return;
        const double hole = *now->clearance + *task_.job.fixture.post_diameter;
        std::set<double> tried{*task_.job.fixture.post_diameter};
        for (const job::Fixture& fixture : task_.job.fixtures) {
            if (!fixture.post_diameter || *fixture.post_diameter >= hole) continue;
            if (!tried.insert(*fixture.post_diameter).second) continue;
            Known known = task_.known;
            known.post_clearance = hole - *fixture.post_diameter;
            Change change;
            change.what = "post diameter";
            change.from = *task_.job.fixture.post_diameter;
            change.to = *fixture.post_diameter;
            change.cost = of_the_shelf();
            add(std::move(change), task_.frame, known);
        }
    }

    // Each pilot of the shelf for the guides of a kind it suits, where another leads them now.
    void pilots() {
        const auto& choices = cut::pilots_for(task_.plan.find, task_.plan.shape.head);
        for (const auto kind : job::both_kinds)
            for (std::size_t p = 0; p < task_.job.pilots.size(); ++p) pilot(kind, p, choices);
    }

    void pilot(job::Kind kind, std::size_t p, const std::vector<find::PilotChoice>& choices) {
        Frame frame = task_.frame;
        job::Job job = task_.job;
        job.pilots = {task_.job.pilots[p]};
        std::string from;
        bool other = false;
        for (SeatFrame& one : frame.seats) {
            if (one.seat.kind != kind) continue;
            const std::size_t valve = one.seat.valve;
            if (valve >= choices.size() || !choices[valve].pilot) return;
            const auto& name = task_.job.pilots[*choices[valve].pilot].name;
            if (from.find(name) == std::string::npos) from += (from.empty() ? "" : ", ") + name;
            if (*choices[valve].pilot == p) continue;
            const job::GuideBore* read = nullptr;
            for (const job::GuideBore& bore : task_.job.readings.guides)
                if (bore.valve == job.head.valves[valve].id) read = &bore;
            const auto choice = find::choose_pilot(job, valve, read);
            if (!choice.pilot || choice.play.value_or(0) > loosest) return;  // does not suit every guide
            lead_by(job, valve, choice, one);
            one.pilot = p;
            other = true;
        }
        if (!other) return;
        Change change;
        change.what = std::string(job::kind_word(kind)) + " pilot";
        change.from = from;
        change.to = task_.job.pilots[p].name;
        change.unit = "";
        change.cost = of_the_shelf();
        add(std::move(change), frame, task_.known);
    }

    // Gauges of the shelf that could read the first seat's height, on which the zero is trimmed.
    void gauges() {
        if (!task_.known.trimmed) return;
        for (const job::Gauge& gauge : task_.job.gauges) {
            if (!gauge.u ||
                std::find(gauge.reads.begin(), gauge.reads.end(), "stem_height") == gauge.reads.end())
                continue;
            Known known = task_.known;
            known.trim_gauge_u = std::hypot(*gauge.u, gauge.step.value_or(0) / std::sqrt(12.0));
            if (known.trim_gauge_u == task_.known.trim_gauge_u) continue;
            Change change;
            change.what = "first seat's gauge: " + gauge.name;
            change.from = task_.known.trim_gauge_u;
            change.to = known.trim_gauge_u;
            change.cost = of_the_shelf();
            add(std::move(change), task_.frame, known);
        }
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
        cost.amount = seconds * task_.known.heads * estimate->head / task_.plan.cut.seconds_head;
        cost.currency = estimate->currency;
        return cost;
    }

    const ChangeTask& task_;
    Rates base_;
    std::vector<Change> out_;
};

}  // namespace

std::vector<Change> changes_of(const ChangeTask& task) {
    return Changer(task).run();
}

}  // namespace seatwright::forecast
