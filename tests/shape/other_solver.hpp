// The depth plan once more, by GLPK: an independent solver, the constraints written pair by pair instead of
// by windows, so that it shares neither code nor form with the program under test.
#pragma once

#include <glpk.h>

#include <cmath>

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/depth_problem.hpp"

namespace seatwright::shape::other {

enum class Numbers { real, whole_steps };

struct Relaxed {
    std::vector<std::size_t> no_low, no_high, no_stem;  // seats let go
    std::vector<std::size_t> no_chamber;
};

inline bool in(const std::vector<std::size_t>& list, std::size_t i) {
    for (const auto x : list)
        if (x == i) return true;
    return false;
}

// Least Σ d, or none when infeasible.
inline std::optional<double> least_total(const DepthProblem& p, Numbers numbers,
                                         const Relaxed& relaxed = {}) {
    glp_term_out(GLP_OFF);
    glp_prob* lp = glp_create_prob();
    glp_set_obj_dir(lp, GLP_MIN);
    const bool whole = numbers == Numbers::whole_steps;
    const double unit = whole ? p.step : 1;
    // Rounding noise: as much as the program under test forgives, so that both answer the same question.
    const double slack = whole ? 1e-6 : 0;
    const int n = static_cast<int>(p.seats.size());
    if (n > 0) glp_add_cols(lp, n);
    for (int i = 0; i < n; ++i) {
        const auto& s = p.seats[static_cast<std::size_t>(i)];
        const bool low = !in(relaxed.no_low, static_cast<std::size_t>(i));
        const bool high = s.high < no_limit && !in(relaxed.no_high, static_cast<std::size_t>(i));
        const double lb = s.low / unit - slack, ub = s.high / unit + slack;
        glp_set_col_kind(lp, i + 1, whole ? GLP_IV : GLP_CV);
        glp_set_obj_coef(lp, i + 1, 1);
        if (low && high && whole) {
            const double a = std::ceil(lb), b = std::floor(ub);
            if (a > b) {
                glp_delete_prob(lp);
                return std::nullopt;
            }
            glp_set_col_bnds(lp, i + 1, a < b ? GLP_DB : GLP_FX, a, b);
        } else if (low && high) {
            glp_set_col_bnds(lp, i + 1, lb < ub ? GLP_DB : GLP_FX, lb, ub);
        } else {
            glp_set_col_bnds(lp, i + 1, low ? GLP_LO : (high ? GLP_UP : GLP_FR), whole ? std::ceil(lb) : lb,
                             whole ? std::floor(ub) : ub);
        }
    }
    const auto add = [&](const std::vector<int>& columns, const std::vector<double>& values, double most) {
        std::vector<int> ind{0};
        std::vector<double> val{0};
        ind.insert(ind.end(), columns.begin(), columns.end());
        val.insert(val.end(), values.begin(), values.end());
        const int row = glp_add_rows(lp, 1);
        glp_set_row_bnds(lp, row, GLP_UP, 0, most);
        glp_set_mat_row(lp, row, static_cast<int>(columns.size()), ind.data(), val.data());
    };
    if (p.holds_stems())
        for (std::size_t i = 0; i < p.seats.size(); ++i)
            for (std::size_t j = 0; j < p.seats.size(); ++j)
                if (i != j && p.seats[i].kind == p.seats[j].kind && p.seats[i].stem && p.seats[j].stem &&
                    !in(relaxed.no_stem, i) && !in(relaxed.no_stem, j))
                    add({static_cast<int>(i) + 1, static_cast<int>(j) + 1}, {1, -1},
                        (*p.stem_spread - *p.seats[i].stem + *p.seats[j].stem) / unit + slack);
    if (p.holds_chambers())
        for (std::size_t a = 0; a < p.chamber.size(); ++a)
            for (std::size_t b = 0; b < p.chamber.size(); ++b) {
                if (a == b || in(relaxed.no_chamber, a) || in(relaxed.no_chamber, b)) continue;
                std::vector<int> columns;
                std::vector<double> values;
                const double scale = std::max(p.area.intake, p.area.exhaust);
                for (std::size_t i = 0; i < p.seats.size(); ++i) {
                    const auto c = p.seats[i].cylinder;
                    if (c != a && c != b) continue;
                    columns.push_back(static_cast<int>(i) + 1);
                    values.push_back((c == a ? 1 : -1) * p.area[p.seats[i].kind] / scale);
                }
                add(columns, values,
                    (*p.chamber_spread - p.chamber[a] + p.chamber[b]) / scale / unit + slack);
            }
    std::optional<double> answer;
    glp_smcp simplex;
    glp_init_smcp(&simplex);
    simplex.msg_lev = GLP_MSG_OFF;
    simplex.tol_bnd = 1e-10;
    const int status = glp_simplex(lp, &simplex);
    if (status == 0 && glp_get_status(lp) == GLP_OPT) {
        answer = glp_get_obj_val(lp);
        if (whole) {
            glp_iocp mip;
            glp_init_iocp(&mip);
            mip.msg_lev = GLP_MSG_OFF;
            mip.tol_int = 1e-9;
            mip.gmi_cuts = mip.mir_cuts = GLP_ON;
            answer.reset();
            if (glp_intopt(lp, &mip) == 0 && glp_mip_status(lp) == GLP_OPT)
                answer = glp_mip_obj_val(lp) * p.step;
        }
    } else if (status == 0 && glp_get_status(lp) == GLP_UNBND) {
        answer = 0;  // only when limits were let go: feasible all the same
    }
    glp_delete_prob(lp);
    return answer;
}

}  // namespace seatwright::shape::other
