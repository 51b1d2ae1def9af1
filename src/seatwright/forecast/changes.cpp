#include "seatwright/forecast/changes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <set>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/gauges.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::forecast {
namespace {

constexpr double seconds_a_touch =
    15;  // common practice, from memory: pilot over the guide, both readings typed
constexpr double seconds_a_blade = 300;      // the same: a blade taken out, set to its diameter and put in
constexpr double seconds_of_posts = 600;     // once: both taken out, others put in and set to the span
constexpr double seconds_a_pilot = 60;       // once: another one put in the tool or laid out
constexpr std::size_t points_of_risks = 32;  // a scramble, of what a gauge changes
constexpr double t_of_seven = 2.365;         // 97.5 % point of Student's t for 7 degrees of freedom

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
        cutters();
        first_seat_gauges();
        gauges();
        std::stable_sort(out_.begin(), out_.end(), [](const Change& a, const Change& b) {
            return a.gain != b.gain ? a.gain > b.gain : a.brings() > b.brings();
        });
        return std::move(out_);
    }

  private:
    void add(Change change, const Frame& frame, const Known& known) {
        if (task_.check) task_.check();
        const MadeBatch made = batch_of(task_.job, frame, known);
        const Rates rates = integrated(made.batch, task_.effort, &task_.tables);
        change.pass_rate = rates.good;
        change.gain = rates.good - base_.good;
        const double error =
            error_of(change.gain, rates.each, base_.each, std::hypot(rates.error, base_.error));
        change.gain_low = change.gain - error;
        change.gain_high = change.gain + error;
        change.significant = change.gain_low > 0;
        constexpr double rounding = 1e-12;
        if (std::abs(change.gain) < rounding) return;
        out_.push_back(std::move(change));
    }

    // 95 % of a difference over the same points; `by_sums`: where there are none.
    static double error_of(double gain, const std::vector<double>& then, const std::vector<double>& now,
                           double by_sums) {
        if (then.size() != now.size() || now.size() < 2) return by_sums;
        const double n = static_cast<double>(now.size());
        double error = 0;
        for (std::size_t i = 0; i < now.size(); ++i) error += std::pow(then[i] - now[i] - gain, 2);
        return t_of_seven * std::sqrt(error / (n * (n - 1)));
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
            change.cost = of_the_shelf(seconds_of_posts);
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
            change.cost = of_the_shelf(seconds_a_pilot);
            add(std::move(change), led_by(frame_, offer), known_);
        }
    }

    // Each cutter of the shelf that makes a kind's form within its tolerances: the width its blade leaves,
    // how many seats it then cuts on a head, and from which Z zero.
    void cutters() {
        for (const CutterOffer& offer : task_.as.cutters) {
            Change change;
            change.what = std::string(job::kind_word(offer.recut.kind)) + " cutter";
            change.from = offer.from;
            change.to = task_.job.cutters[offer.recut.cutter].name;
            change.unit = "";
            change.cost = of_the_shelf(seconds_a_blade);
            add(std::move(change), offer.frame, known_);
        }
    }

    // Gauges of the shelf that could read the first seat's height, on which the zero is trimmed.
    void first_seat_gauges() {
        if (!known_.trimmed) return;
        for (const job::Gauge& gauge : task_.job.gauges) {
            const auto u = shelf_u(gauge, prove::Quantity::stem_height);
            if (!u || *u == known_.trim_gauge_u) continue;
            Known known = known_;
            known.trim_gauge_u = *u;
            Change change;
            change.what = "first seat's gauge: " + gauge.name;
            change.from = known_.trim_gauge_u;
            change.to = known.trim_gauge_u;
            change.cost = of_the_shelf(0);
            add(std::move(change), frame_, known);
        }
    }

    // What seats are measured with afterwards: half the uncertainty, and each gauge of the shelf that reads
    // the quantity. They change verdicts and risks alone.
    void gauges() {
        Effort effort = task_.effort;
        effort.verdict_points = points_of_risks;
        const Rates now = integrated(task_.made.batch, effort, &task_.tables);
        if (!now.judged) return;
        struct Judging {
            prove::Quantity quantity;
            const char* what;
            bool judged;
        };
        const auto any = [&](auto&& has) {
            const auto& seats = task_.made.batch.seats;
            return std::any_of(seats.begin(), seats.end(), has);
        };
        const std::array<Judging, 3> all{
            Judging{prove::Quantity::runout, "runout gauge",
                    any([](const Seat& s) { return s.runout_max.has_value(); })},
            Judging{prove::Quantity::width, "width gauge",
                    any([](const Seat& s) { return s.width_tol.has_value(); })},
            Judging{prove::Quantity::stem_height, "stem height gauge",
                    task_.made.batch.stem_spread || any([](const Seat& s) { return !s.height.open(); })}};
        for (const Judging& one : all) {
            const auto figure = figure_of(one.quantity);
            if (!one.judged || !(known_.*figure)) continue;
            const double u = *(known_.*figure);
            const auto with = [&](double other, const Setting& to, bool of_shelf) {
                Known known = known_;
                known.*figure = other;
                Change change;
                change.what = one.what;
                const std::string& name = known_.gauge_names[static_cast<std::size_t>(one.quantity)];
                if (of_shelf && !name.empty())
                    change.from = name;
                else
                    change.from = u;
                change.to = to;
                if (of_shelf) change.cost = of_the_shelf(0);
                add_gauge(std::move(change), known, now, effort);
            };
            if (u > 0) with(u / 2, u / 2, false);
            for (const job::Gauge& gauge : task_.job.gauges)
                if (const auto other = shelf_u(gauge, one.quantity); other && *other != u)
                    with(*other, gauge.name, true);
        }
    }

    void add_gauge(Change change, const Known& known, const Rates& now, const Effort& effort) {
        if (task_.check) task_.check();
        const Rates then = integrated(batch_of(task_.job, frame_, known).batch, effort, &task_.tables);
        if (!then.judged) return;
        change.pass_rate = base_.good;
        Change::AsMeasured as;
        as.verdict = {then.pass, then.fail, std::max(0.0, 1 - then.pass - then.fail)};
        as.risk = {then.consumer, then.producer_fail + then.producer_undecided, then.producer_fail,
                   then.producer_undecided};
        as.gain = then.pass - now.pass;
        const double error =
            error_of(as.gain, then.passed_each, now.passed_each, std::hypot(then.error, now.error));
        as.gain_low = as.gain - error;
        as.gain_high = as.gain + error;
        change.significant = as.gain_low > 0;
        constexpr double rounding = 1e-12;
        if (std::abs(as.gain) < rounding) return;
        change.as_measured = as;
        out_.push_back(std::move(change));
    }

    Change::Cost of_the_shelf(double seconds) const {
        Change::Cost cost;
        cost.once = true;
        cost.seconds_once = seconds;
        price(cost, seconds);
        return cost;
    }

    Change::Cost each_head(double seconds) const {
        Change::Cost cost;
        cost.seconds_head = seconds;
        price(cost, seconds * known_.heads);
        return cost;
    }

    // A second is worth what the estimate asks for a head, over the seconds a head takes.
    void price(Change::Cost& cost, double seconds) const {
        const auto& estimate = task_.plan.cut.estimate;
        if (!estimate || task_.plan.cut.seconds_head <= 0) return;
        cost.amount = seconds * estimate->head / task_.plan.cut.seconds_head;
        cost.currency = estimate->currency;
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
