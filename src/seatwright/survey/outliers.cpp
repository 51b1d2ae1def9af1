#include "seatwright/survey/outliers.hpp"

#include <cmath>
#include <optional>

#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

// Below this share a row's error hardly shows in its residual: it cannot be judged.
constexpr double judged = 0.005;
// A row set aside is judged again where the others foretell it to three of its sds.
constexpr double foretold = 9;

double w_of(const Solution& s, std::size_t i) {
    return std::abs(s.residual[i]) / std::sqrt(s.redundancy[i]);
}

bool can_be_suspect(const Row& row, const Solution& s, std::size_t i) {
    return row.read && !row.aside && !row.sure && s.redundancy[i] > judged;
}

std::optional<std::size_t> worst(const std::vector<Row>& rows, const Solution& s) {
    std::optional<std::size_t> out;
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (can_be_suspect(rows[i], s, i) && (!out || w_of(s, i) > w_of(s, *out))) out = i;
    return out;
}

// Rows that explain the misfit as well as row `i` does: were one of them wrong, `i` would look like this too.
std::vector<std::size_t> as_well(const Layout& layout, const std::vector<Row>& rows, const Solution& s,
                                 std::size_t i, double limit) {
    Gradient g;
    model(layout, rows[i], s.unknowns, g);
    Eigen::VectorXd pull = Eigen::VectorXd::Zero(layout.size());
    for (const auto& [k, a] : g) pull += a * s.covariance.col(k);
    std::vector<std::size_t> out;
    const double wi = w_of(s, i);
    for (std::size_t j = 0; j < rows.size(); ++j) {
        if (j == i || !can_be_suspect(rows[j], s, j) || w_of(s, j) < limit) continue;
        model(layout, rows[j], s.unknowns, g);
        double shared = 0;
        for (const auto& [k, a] : g) shared += a * pull[k];
        const double rho =
            std::abs(shared) / (rows[i].sd * rows[j].sd) / std::sqrt(s.redundancy[i] * s.redundancy[j]);
        const double apart = std::max(0.0, 1 - rho);
        if (wi - w_of(s, j) + apart * wi < 3 * std::sqrt(2 * apart) + 1e-4 * wi) out.push_back(j);
    }
    return out;
}

seatwright::Figure far_off(const Row& row, const Solution& s, std::size_t i) {
    const bool angle =
        row.says == Row::Says::tilt || row.says == Row::Says::swing || row.says == Row::Says::lean;
    const double off = std::abs(s.residual[i]) * row.sd / s.redundancy[i];
    return angle ? as_degrees(off, 2) : as_place(off);
}

// Row `i` is set aside, and with it what could be wrong in its place.
void blame(const Layout& layout, std::vector<Row>& rows, const Solution& s, std::size_t i, double limit) {
    const auto others = as_well(layout, rows, s, i, limit);
    const seatwright::Figure off = far_off(rows[i], s, i);
    rows[i].why = others.empty() ? sentence<"far-off">("off"_is = off)
                                 : sentence<"far-off-or-others">("off"_is = off, "others"_is = others.size());
    for (const auto j : others) {
        rows[j].why = sentence<"either-wrong">("other"_is = rows[i].what);
        rows[j].aside = rows[j].by_others = true;
    }
    rows[i].aside = rows[i].by_others = true;
}

}  // namespace

std::size_t set_gross_aside(const Layout& layout, std::vector<Row>& rows, const Eigen::VectorXd& at) {
    constexpr double gross = 100;
    std::size_t bad = 0;
    while (true) {
        const Solution s = linearized(layout, rows, at);
        const auto i = worst(rows, s);
        if (!i || w_of(s, *i) <= gross) return bad;
        blame(layout, rows, s, *i, gross);
        ++bad;
    }
}

double suspect_limit(std::size_t n) {
    return -numerics::normal_quantile(false_alarm_rate / static_cast<double>(std::max<std::size_t>(n, 1)) /
                                      2);
}

Solved<Sorted> sort_out(const Layout& layout, std::vector<Row>& rows, const Eigen::VectorXd& start) {
    std::size_t n = 0;
    for (const auto& row : rows) n += row.read ? 1 : 0;
    const double limit = suspect_limit(n);
    Sorted out;
    auto solved = solve(layout, rows, start);
    for (int pass = 0; solved && pass < 3; ++pass) {
        bool changed = false;
        while (solved) {
            const auto i = worst(rows, *solved);
            if (!i || w_of(*solved, *i) <= limit) break;
            blame(layout, rows, *solved, *i, limit);
            ++out.bad;
            changed = true;
            solved = solve(layout, rows, solved->unknowns);
        }
        // Best first: each that comes back changes what is foretold of the next.
        while (solved) {
            std::optional<std::size_t> back;
            for (std::size_t i = 0; i < rows.size(); ++i)
                if (rows[i].aside && rows[i].by_others && solved->redundancy[i] < 1 + foretold &&
                    w_of(*solved, i) < limit && (!back || w_of(*solved, i) < w_of(*solved, *back)))
                    back = i;
            if (!back) break;
            rows[*back].aside = rows[*back].by_others = false;
            rows[*back].why = {};
            changed = true;
            solved = solve(layout, rows, solved->unknowns);
        }
        if (!changed) break;
    }
    if (!solved) return tl::unexpected(solved.error());
    out.solution = std::move(*solved);
    return out;
}

}  // namespace seatwright::survey
