#include "seatwright/survey/accepted.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <map>

namespace seatwright::survey {
namespace {

constexpr std::string_view like_valves = "like valves ", row_of_guides = "row of guides ",
                           bore_spacing = "bore spacing";

// A figure of a guide as a sum of unknowns: value = terms · unknowns, for those read and those left open.
struct Member {
    Valve* valve;
    std::vector<std::pair<Eigen::Index, double>> terms;
};

// The unknowns by least squares from the members that have the figure; then every member has what they come
// to, as far as those read say it. Too few to show how far they stray: nothing is changed.
void fit(std::vector<Member>& members, Eigen::Index unknowns, Figure Valve::*figure, int axis) {
    std::vector<const Member*> read;
    for (const auto& m : members)
        if ((m.valve->*figure).value) read.push_back(&m);
    const auto n = static_cast<Eigen::Index>(read.size());
    Eigen::MatrixXd a = Eigen::MatrixXd::Zero(n, unknowns);
    Eigen::VectorXd b(n);
    double known_to = 0;
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto& m = *read[static_cast<std::size_t>(i)];
        for (const auto& [k, c] : m.terms) a(i, k) = c;
        b[i] = *(m.valve->*figure).value;
        known_to += std::pow((m.valve->*figure).u, 2) / static_cast<double>(n);
    }
    const Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> solver(a);
    const auto spare = static_cast<double>(n - solver.rank());
    if (spare < 1) return;
    const Eigen::VectorXd found = solver.solve(b);
    const double strays = std::max((b - a * found).squaredNorm() / spare, known_to);
    const double u = std::sqrt(strays * (1 + 1 / static_cast<double>(n)));
    const Eigen::MatrixXd told = solver.pseudoInverse() * a;
    for (auto& m : members) {
        Eigen::RowVectorXd terms = Eigen::RowVectorXd::Zero(unknowns);
        for (const auto& [k, c] : m.terms) terms[k] = c;
        if ((terms * told - terms).norm() > 1e-9) continue;  // of a row nobody read
        (m.valve->*figure) = {terms.dot(found), u};
        if (axis < 0) continue;
        m.valve->covariance.row(axis).setZero();
        m.valve->covariance.col(axis).setZero();
        m.valve->covariance(axis, axis) = u * u;
    }
}

double side(const Survey& survey, const Valve& v) {
    return survey.mirrored && v.name.cylinder % 2 == 0 ? -1 : 1;
}

void of_like(Survey& survey, const std::string& letters, bool row) {
    std::vector<Member> same, turned;
    for (auto& v : survey.valves) {
        if (v.name.letters != letters) continue;
        same.push_back({&v, {{0, 1.0}}});
        turned.push_back({&v, {{0, side(survey, v)}}});
    }
    if (row) return fit(same, 1, &Valve::y, 1);
    fit(same, 1, &Valve::z, 2);
    fit(same, 1, &Valve::incline, -1);
    fit(turned, 1, &Valve::cant, -1);
}

// x = spacing·(cylinder − 1) + first + side·(of its letters).
void of_spacing(Survey& survey) {
    std::map<std::string, Eigen::Index> of;
    constexpr Eigen::Index spacing = 0, first = 1, own = 2;
    for (const auto& v : survey.valves)
        of.try_emplace(v.name.letters, own + static_cast<Eigen::Index>(of.size()));
    std::vector<Member> all;
    for (auto& v : survey.valves)
        all.push_back(
            {&v, {{spacing, v.name.cylinder - 1.0}, {first, 1.0}, {of.at(v.name.letters), side(survey, v)}}});
    fit(all, own + static_cast<Eigen::Index>(of.size()), &Valve::x, 0);
}

}  // namespace

bool can_be_accepted(const std::string& what) {
    return what.starts_with(like_valves) || what.starts_with(row_of_guides) || what == bore_spacing;
}

Survey accepted(Survey survey, const std::vector<std::string>& repeats) {
    for (const auto& what : repeats) {
        const bool offered = std::any_of(survey.repeats.begin(), survey.repeats.end(),
                                         [&](const Repeat& r) { return r.what == what; });
        if (!offered || !can_be_accepted(what)) continue;
        if (what == bore_spacing) {
            of_spacing(survey);
        } else {
            const bool row = what.starts_with(row_of_guides);
            of_like(survey, what.substr(row ? row_of_guides.size() : like_valves.size()), row);
        }
    }
    return survey;
}

}  // namespace seatwright::survey
