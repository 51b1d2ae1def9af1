#include "seatwright/forecast/weave.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/forecast/quadrature.hpp"
#include "seatwright/forecast/smoothing.hpp"
#include "seatwright/job/kind_index.hpp"

namespace seatwright::forecast {
namespace {

constexpr double chance_of_nothing = 1e-9;  // chance of meeting a limit that is then left out
constexpr double woven_tail = 5.6;

// Standard deviation of one seat's height, all causes.
double whole_sd(const Batch& b, const Seat& seat, double own) {
    return std::hypot(own, b.zeros[seat.zero], b.setups[seat.setup].level_sd * seat.from_zero.norm());
}

double worn_at(const Batch& b, const Seat& seat, double head) {
    return b.depth_wear * (head * seat.seats_of_cutter + seat.place);
}

// Upside down.
StemsGiven turned(StemsGiven given) {
    for (double& at : given.planned) at = -at;
    for (Vec2& from : given.from_zero) from = -from;
    const Window window = given.window;
    given.window = {};
    if (window.high) given.window.low = -*window.high;
    if (window.low) given.window.high = -*window.low;
    return given;
}

}  // namespace

std::unique_ptr<Weave> Weave::of(const WeaveTask& task) {
    std::unique_ptr<Weave> out(new Weave(task));
    if (!out->build()) return nullptr;
    return out;
}

Weave::Weave(const WeaveTask& task) : batch_(task.batch), task_(task) {}

bool Weave::build() {
    for (std::size_t kind = 0; kind < kinds_.size(); ++kind)
        if (!build_kind(kind)) return false;
    // A zero that counts serves one kind in one setup.
    std::set<std::size_t> taken;
    for (const Cell& c : cells_) {
        const bool counts = c.zero_sd > 0 && (kinds_[c.kind].joint || !c.stems.given().window.open());
        if (!counts) continue;
        for (const Seat& seat : batch_.seats)
            if (seat.setup == c.setup && index_of(seat.kind) == c.kind) {
                if (!taken.insert(seat.zero).second) return false;
                break;
            }
    }
    for (const Cell& c : cells_)
        by_node_ = by_node_ || (!kinds_[c.kind].joint && !c.stems.given().window.open());
    by_node_ = by_node_ && batch_.depth_wear != 0 && task_.nodes.size() > 1;
    return true;
}

bool Weave::build_kind(std::size_t kind) {
    std::vector<const Seat*> seats;
    std::set<std::size_t> setups;
    for (const Seat& seat : batch_.seats)
        if (index_of(seat.kind) == kind) {
            seats.push_back(&seat);
            setups.insert(seat.setup);
        }
    if (seats.empty()) return true;
    Window window;
    bool first = true;
    for (const Seat* seat : seats) {
        const Window own = seat->planned_height ? seat->height : Window{};
        if (!first && (own.low != window.low || own.high != window.high)) return false;
        window = own;
        first = false;
    }
    if (window.low) *window.low += task_.narrower;
    if (window.high) *window.high -= task_.narrower;
    // A limit that is as good as never met is none.
    double below = 0, above = 0;
    for (const Seat* seat : seats) {
        const double sd = std::max(1e-300, whole_sd(batch_, *seat, task_.sd));
        const double planned = seat->planned_height.value_or(0);
        const double fresh = worn_at(batch_, *seat, 0), old = worn_at(batch_, *seat, task_.nodes.back());
        if (window.high)
            above += numerics::normal_above((*window.high - planned - std::max(fresh, old)) / sd);
        if (window.low) below += numerics::normal_below((*window.low - planned - std::min(fresh, old)) / sd);
    }
    if (above < chance_of_nothing) window.high = std::nullopt;
    if (below < chance_of_nothing) window.low = std::nullopt;
    std::optional<double> spread = batch_.stem_spread;
    if (spread) *spread -= std::numbers::sqrt2 * task_.narrower;
    if (spread && *spread <= 0) return false;
    if (spread && window.low && window.high && *window.high - *window.low <= *spread) spread = std::nullopt;
    if (seats.size() < 2) spread = std::nullopt;
    if (const Ends ends = task_.ends[kind]; ends != Ends::both) {
        if (!spread || !window.low || !window.high) return false;
        if (ends != Ends::upper) window.high = std::nullopt;
        if (ends != Ends::lower) window.low = std::nullopt;
    }
    if (!spread && window.open()) return true;
    KindPlaces& places = kinds_[kind];
    places.joint = spread && setups.size() > 1;
    if (places.joint && window.low && window.high) return false;
    places.turned = places.joint && window.low.has_value();
    double least_zero = std::numeric_limits<double>::infinity();
    for (const Seat* seat : seats) least_zero = std::min(least_zero, batch_.zeros[seat->zero]);
    for (const std::size_t setup : setups) {
        StemsGiven given;
        given.of_kind = places.joint ? seats.size() : 0;  // so that all setups have one distance of places
        given.sd = task_.sd;
        given.spread = spread;
        given.window = window;
        const Seat* any = nullptr;
        for (const Seat* seat : seats) {
            if (seat->setup != setup) continue;
            if (any != nullptr && any->zero != seat->zero &&
                (batch_.zeros[seat->zero] > 0 || batch_.zeros[any->zero] > 0))
                return false;
            if (batch_.depth_wear != 0 && seat->seats_of_cutter != seats.front()->seats_of_cutter)
                return false;
            any = seat;
            given.planned.push_back(seat->planned_height.value_or(0) + worn_at(batch_, *seat, 0));
            given.from_zero.push_back(seat->from_zero);
        }
        const double zero_sd = batch_.zeros[any->zero];
        given.zero_sd = places.joint ? least_zero : zero_sd;
        if (places.turned) given = turned(std::move(given));
        if (!Stems::suits(given)) return false;
        places.cut = any->seats_of_cutter;
        places.limit = given.window.high;
        cells_.push_back({setup, kind, Stems(std::move(given), 1), zero_sd, any->seats_of_cutter, nullptr});
    }
    if (places.joint) place(kind);
    return true;
}

// The places of a kind's highest seat: wherever it may come to lie.
void Weave::place(std::size_t kind) {
    KindPlaces& places = kinds_[kind];
    double from = -std::numeric_limits<double>::infinity(), to = from, lowest = -from;
    for (const Cell& c : cells_) {
        if (c.kind != kind) continue;
        const StemsGiven& g = c.stems.given();
        places.step = c.stems.step();
        for (std::size_t i = 0; i < g.planned.size(); ++i) {
            const double reach =
                woven_tail *
                std::hypot(g.sd, c.zero_sd, batch_.setups[c.setup].level_sd * g.from_zero[i].norm());
            from = std::max(from, g.planned[i] - reach);
            to = std::max(to, g.planned[i] + reach);
            lowest = std::min(lowest, g.planned[i] + reach + *g.spread);
        }
    }
    to = std::min(to, lowest);
    // The zero moves what is found: room for it at either end.
    double zero = 0;
    for (const Cell& c : cells_)
        if (c.kind == kind) zero = std::max(zero, c.zero_sd);
    from -= 3 * places.step + woven_tail * zero;
    to += 3 * places.step + woven_tail * zero;
    places.first = from;
    places.n = to > from ? static_cast<std::size_t>((to - from) / places.step) + 2 : 2;
}

double Weave::sharpness(std::size_t setup, const Vec2& direction) const {
    double most = 0;
    for (const Cell& c : cells_)
        if (c.setup == setup) most = std::max(most, c.stems.sharpness(direction, kinds_[c.kind].joint));
    return most;
}

Vec2 Weave::along(std::size_t setup) const {
    Mat2 sum = Mat2::Zero();
    for (const Cell& c : cells_) {
        if (c.setup != setup) continue;
        const auto& from = c.stems.given().from_zero;
        Vec2 middle = Vec2::Zero();
        for (const Vec2& at : from) middle += at / static_cast<double>(from.size());
        if (kinds_[c.kind].joint) middle.setZero();
        for (const Vec2& at : from) sum += (at - middle) * (at - middle).transpose();
    }
    const double turn = 0.5 * std::atan2(2 * sum(0, 1), sum(0, 0) - sum(1, 1));
    return {std::cos(turn), std::sin(turn)};
}

std::vector<double> Weave::values_of(const Cell& c) const {
    const Attitudes& attitudes = attitudes_[c.setup];
    const KindPlaces& places = kinds_[c.kind];
    std::vector<double> raised;
    for (const double node : task_.nodes) {
        raised.push_back(batch_.depth_wear * node * c.cut);
        if (!by_node_) break;
    }
    const std::size_t each = places.joint ? 2 * places.n : raised.size();
    std::vector<double> out(each * attitudes.at.size());
    for (std::size_t i = 0; i < attitudes.at.size(); ++i) {
        double* row = out.data() + each * i;
        if (places.joint)
            c.stems.on(attitudes.at[i], places.first, places.n, row, row + places.n);
        else
            c.stems.chance(attitudes.at[i], raised, row);
    }
    return out;
}

void Weave::take(std::vector<Attitudes> attitudes) {
    attitudes_ = std::move(attitudes);
    for (Cell& c : cells_) {
        const auto& at = attitudes_[c.setup].at;
        const StemsGiven& g = c.stems.given();
        const KindPlaces& places = kinds_[c.kind];
        constexpr double none = 1e300;
        std::vector<double> key{g.sd,
                                g.spread.value_or(-1),
                                g.window.open() ? 0 : g.zero_sd,
                                g.window.low.value_or(none),
                                g.window.high.value_or(none),
                                c.stems.step(),
                                places.joint ? places.first : 0,
                                static_cast<double>(places.n),
                                static_cast<double>(at.size()),
                                at.front().x(),
                                at.front().y(),
                                at.back().y(),
                                at[at.size() / 3].x(),
                                at[at.size() / 3].y()};
        for (std::size_t i = 0; i < g.planned.size(); ++i) {
            key.push_back(g.planned[i]);
            key.push_back(g.from_zero[i].x());
            key.push_back(g.from_zero[i].y());
        }
        if (by_node_)
            for (const double node : task_.nodes) key.push_back(batch_.depth_wear * node * c.cut);
        RowCache none_kept;
        c.values = (task_.rows != nullptr ? task_.rows : &none_kept)->of(key, [&] { return values_of(c); });
    }
}

const Weave::Cell* Weave::cell(std::size_t setup, std::size_t kind) const {
    for (const Cell& c : cells_)
        if (c.setup == setup && c.kind == kind) return &c;
    return nullptr;
}

void Weave::add_setup(std::size_t setup, std::size_t node, const std::vector<double>& seats, bool odd,
                      Table& out) const {
    const Attitudes& attitudes = attitudes_[setup];
    const std::array<const Cell*, 2> cells{cell(setup, 0), cell(setup, 1)};
    static const double one = 1, none = 0;
    struct Row {
        const double* within = &one;
        const double* highest = &none;
        std::size_t n = 1;
    };
    const std::size_t columns = kinds_[1].n;
    // Of a joint kind that has no seat in this setup all places are alike.
    std::array<std::vector<double>, 2> whole;
    for (std::size_t k = 0; k < 2; ++k)
        if (kinds_[k].joint && cells[k] == nullptr) {
            whole[k].assign(2 * kinds_[k].n, 0);
            std::fill_n(whole[k].begin(), kinds_[k].n, 1.0);
        }
    for (std::size_t i = 0; i < attitudes.at.size(); ++i) {
        if (attitudes.places.odd[i] != odd) continue;
        double weight = attitudes.places.weight[i] * seats[i];
        std::array<Row, 2> rows;
        for (std::size_t k = 0; k < 2; ++k) {
            if (!kinds_[k].joint) {
                if (cells[k] == nullptr) continue;
                const std::size_t each = cells[k]->values->size() / attitudes.at.size();
                weight *= (*cells[k]->values)[i * each + (each > 1 ? node : 0)];
                continue;
            }
            const std::size_t n = kinds_[k].n;
            const double* of = cells[k] != nullptr ? cells[k]->values->data() + 2 * n * i : whole[k].data();
            rows[k] = {of, of + n, n};
        }
        if (weight < 1e-16) continue;
        const auto add = [&](std::size_t which, const double* a, const double* b) {
            double* to = out[which].data();
            for (std::size_t x = 0; x < rows[0].n; ++x) {
                const double scaled = weight * a[x];
                if (scaled < 1e-18) continue;
                double* line = to + x * columns;
                for (std::size_t y = 0; y < rows[1].n; ++y) line[y] += scaled * b[y];
            }
        };
        add(0, rows[0].within, rows[1].within);
        if (kinds_[0].joint) add(1, rows[0].highest, rows[1].within);
        if (kinds_[1].joint) add(2, rows[0].within, rows[1].highest);
        if (kinds_[0].joint && kinds_[1].joint) add(3, rows[0].highest, rows[1].highest);
    }
}

std::vector<double> Weave::cut_weights(std::size_t kind, std::size_t node) const {
    const KindPlaces& p = kinds_[kind];
    std::vector<double> out(p.n, p.joint ? p.step : 1);
    if (!p.joint || !p.limit) return out;
    const double raised = batch_.depth_wear * task_.nodes[node] * p.cut * (p.turned ? -1 : 1);
    for (std::size_t i = 0; i < p.n; ++i)
        out[i] *= part_below((*p.limit - raised - p.first) / p.step - static_cast<double>(i));
    return out;
}

double Weave::together(const std::vector<Table>& setups, std::size_t node) const {
    Table all;
    const std::size_t size = kinds_[0].n * kinds_[1].n;
    for (auto& part : all) part.assign(size, 0);
    all[0].assign(size, 1);
    for (const Table& s : setups)
        for (std::size_t i = 0; i < size; ++i) {
            const double uu = all[0][i], du = all[1][i], ud = all[2][i], dd = all[3][i];
            all[0][i] = uu * s[0][i];
            all[1][i] = du * s[0][i] + uu * s[1][i];
            all[2][i] = ud * s[0][i] + uu * s[2][i];
            all[3][i] = dd * s[0][i] + du * s[2][i] + ud * s[1][i] + uu * s[3][i];
        }
    const auto& wanted = all[(kinds_[0].joint ? 1 : 0) + (kinds_[1].joint ? 2 : 0)];
    const auto by_row = cut_weights(0, node), by_column = cut_weights(1, node);
    double sum = 0;
    for (std::size_t x = 0; x < kinds_[0].n; ++x)
        for (std::size_t y = 0; y < kinds_[1].n; ++y)
            sum += by_row[x] * by_column[y] * wanted[x * kinds_[1].n + y];
    return sum;
}

std::vector<Weave::Sum> Weave::chance(const std::vector<std::vector<double>>& seats) const {
    const std::size_t size = kinds_[0].n * kinds_[1].n;
    std::vector<Sum> out(task_.nodes.size());
    std::vector<Table> whole, even;
    for (std::size_t node = 0; node < task_.nodes.size(); ++node) {
        if (node == 0 || by_node_) {
            whole.clear();
            even.clear();
            for (std::size_t s = 0; s < attitudes_.size(); ++s) {
                if (attitudes_[s].at.empty()) continue;
                Table one, other;
                for (auto* table : {&one, &other})
                    for (auto& part : *table) part.assign(size, 0);
                add_setup(s, node, seats[s], false, one);
                add_setup(s, node, seats[s], true, other);
                for (auto* table : {&one, &other})
                    for (std::size_t k = 0; k < 2; ++k)
                        if (const Cell* c = cell(s, k); c != nullptr && kinds_[k].joint && c->zero_sd > 0)
                            for (auto& part : *table)
                                smooth(part, kinds_[0].n, kinds_[1].n, k == 0, c->zero_sd / kinds_[k].step);
                for (std::size_t part = 0; part < one.size(); ++part)
                    for (std::size_t i = 0; i < size; ++i) {
                        other[part][i] += one[part][i];
                        one[part][i] /= attitudes_[s].places.even_share;
                    }
                even.push_back(std::move(one));
                whole.push_back(std::move(other));
            }
        }
        out[node] = {together(whole, node), together(even, node)};
    }
    return out;
}

namespace {

std::vector<WeaveTerm> woven_by_ends(const WeaveTask& task) {
    if (auto whole = Weave::of(task)) {
        std::vector<WeaveTerm> out;
        out.push_back({1, nullptr, std::move(whole)});
        return out;
    }
    struct Part {
        Ends ends;
        double sign;
    };
    const std::vector<Part> whole{{Ends::both, 1}},
        parted{{Ends::upper, 1}, {Ends::lower, 1}, {Ends::neither, -1}};
    // Intake, exhaust, or both of them in parts.
    for (const auto& [intake, exhaust] :
         {std::pair(parted, whole), std::pair(whole, parted), std::pair(parted, parted)}) {
        std::vector<WeaveTerm> out;
        bool all = true;
        for (const Part& a : intake)
            for (const Part& b : exhaust) {
                if (!all) break;
                WeaveTask one = task;
                one.ends = {a.ends, b.ends};
                auto weave = Weave::of(one);
                all = weave != nullptr;
                out.push_back({a.sign * b.sign, nullptr, std::move(weave)});
            }
        if (all) return out;
    }
    return {};
}

// The first zero that moves seats of several kinds or setups.
std::optional<std::size_t> common_zero(const Batch& batch) {
    for (const Seat& a : batch.seats)
        for (const Seat& b : batch.seats)
            if (a.zero == b.zero && batch.zeros[a.zero] > 0 && (a.kind != b.kind || a.setup != b.setup))
                return a.zero;
    return std::nullopt;
}

// That zero at one place after the other. Heights it moves change over their own scatter, or, the more of
// them the sooner, somewhat less.
std::vector<WeaveTerm> woven_by_zero(const WeaveTask& task, std::size_t zero) {
    constexpr std::size_t most = 64;
    constexpr double sooner = 2;
    if (task.sd <= 0) return {};
    const EvenPlaces places =
        EvenPlaces::over({sooner * task.batch.zeros[zero] / task.sd}, task.fineness, most);
    std::vector<WeaveTerm> out;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto still = std::make_shared<Batch>(task.batch);
        still->zeros[zero] = 0;
        for (Seat& seat : still->seats)
            if (seat.zero == zero)
                seat.planned_height =
                    seat.planned_height.value_or(0) + task.batch.zeros[zero] * places.normal[i];
        auto terms =
            woven_by_ends({*still, task.nodes, task.sd, task.narrower, task.fineness, task.rows, task.ends});
        if (terms.empty()) return {};
        for (WeaveTerm& term : terms) {
            term.weight *= places.weight[i];
            term.of = still;
            out.push_back(std::move(term));
        }
    }
    return out;
}

}  // namespace

std::vector<WeaveTerm> woven_of(const WeaveTask& task) {
    if (auto out = woven_by_ends(task); !out.empty()) return out;
    const auto zero = common_zero(task.batch);
    return zero ? woven_by_zero(task, *zero) : std::vector<WeaveTerm>{};
}

}  // namespace seatwright::forecast
