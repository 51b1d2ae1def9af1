#include "seatwright/shape/depth_lp.hpp"

#include <fmt/format.h>

#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <algorithm>

#include "seatwright/job/kind_index.hpp"

namespace seatwright::shape {

namespace {

// mm. Depth limits are given to 1e-4 mm at best; Clp's own default of 1e-7 would show in the last digit of
// the JSON's total.
constexpr double primal_tolerance = 1e-9;
// Far above what 128 seats need (a few hundred); a program that takes more is cycling.
constexpr int most_pivots = 20'000;

// Columns: d of each seat, then the lower end of each kind's stem window, of the chamber window (in mm of the
// larger valve), and the slack t added to the chamber spread. Rows: stem window of each seat, then for each
// cylinder its lower and upper bound.
class Program {
  public:
    explicit Program(const DepthProblem& problem) : problem_(problem) {
        unit_ = std::max({problem.area.intake, problem.area.exhaust, 1.0});
        build();
    }

    void free_cleanup(std::size_t seat) { model_.setColumnLower(column(seat), -COIN_DBL_MAX); }
    void keep_cleanup(std::size_t seat) { model_.setColumnLower(column(seat), problem_.seats[seat].low); }
    void free_most_depth(std::size_t seat) { model_.setColumnUpper(column(seat), COIN_DBL_MAX); }
    void keep_most_depth(std::size_t seat) { model_.setColumnUpper(column(seat), upper(seat)); }
    void free_stem(std::size_t seat) { model_.setRowBounds(stem_row(seat), -COIN_DBL_MAX, COIN_DBL_MAX); }
    void keep_stem(std::size_t seat) {
        const double h = *problem_.seats[seat].stem;
        model_.setRowBounds(stem_row(seat), -h, *problem_.stem_spread - h);
    }
    void free_chamber(std::size_t c) {
        model_.setRowBounds(chamber_row(c), -COIN_DBL_MAX, COIN_DBL_MAX);
        model_.setRowBounds(chamber_row(c) + 1, -COIN_DBL_MAX, COIN_DBL_MAX);
    }
    void keep_chamber(std::size_t c) {
        const double v = problem_.chamber[c] / unit_;
        model_.setRowBounds(chamber_row(c), -v, COIN_DBL_MAX);
        model_.setRowBounds(chamber_row(c) + 1, -COIN_DBL_MAX, *problem_.chamber_spread / unit_ - v);
    }
    // Instead of Σ d: any depths at all, so that letting a lower bound go leaves nothing unbounded.
    void seek_anything() {
        for (int j = 0; j < model_.numberColumns(); ++j) model_.setObjectiveCoefficient(j, 0);
    }
    // Instead of Σ d: the least addition to the chamber spread.
    void seek_least_chamber_spread() {
        seek_anything();
        model_.setObjectiveCoefficient(slack_column(), 1);
        model_.setColumnUpper(slack_column(), COIN_DBL_MAX);
    }

    enum class Outcome { optimal, infeasible };
    Solved<Outcome> solve() {
        model_.dual();
        if (model_.status() == 0) return Outcome::optimal;
        if (model_.status() == 1) return Outcome::infeasible;
        return tl::unexpected(SolverError{"linear program of the depths (Clp)", model_.numberIterations(),
                                          model_.sumPrimalInfeasibilities(),
                                          fmt::format("Clp ended with status {}", model_.status())});
    }
    double depth(std::size_t seat) const { return model_.getColSolution()[seat]; }
    double slack() const { return model_.getColSolution()[slack_column()] * unit_; }

  private:
    static int column(std::size_t seat) { return static_cast<int>(seat); }
    int window_column(job::Kind kind) const { return column(problem_.seats.size() + index_of(kind)); }
    int chamber_column() const { return column(problem_.seats.size()) + 2; }
    int slack_column() const { return column(problem_.seats.size()) + 3; }
    int stem_row(std::size_t seat) const { return stem_row_[seat]; }
    int chamber_row(std::size_t c) const { return first_chamber_row_ + 2 * static_cast<int>(c); }
    double upper(std::size_t seat) const {
        return problem_.seats[seat].high < no_limit ? problem_.seats[seat].high : COIN_DBL_MAX;
    }

    void build() {
        const int columns = column(problem_.seats.size()) + 4;
        CoinPackedMatrix matrix(false, 0, 0);
        matrix.setDimensions(0, columns);
        add_stem_rows(matrix);
        add_chamber_rows(matrix);
        const auto n = static_cast<std::size_t>(columns);
        std::vector<double> lower(n, -COIN_DBL_MAX), high(n, COIN_DBL_MAX), cost(n, 0.0);
        for (std::size_t i = 0; i < problem_.seats.size(); ++i) {
            lower[i] = problem_.seats[i].low;
            high[i] = upper(i);
            cost[i] = 1;
        }
        lower[n - 1] = high[n - 1] = 0;
        model_.setLogLevel(0);
        model_.setPrimalTolerance(primal_tolerance);
        model_.setMaximumIterations(most_pivots);
        model_.loadProblem(matrix, lower.data(), high.data(), cost.data(), nullptr, nullptr);
        for (std::size_t i = 0; i < problem_.seats.size(); ++i)
            if (stem_row_[i] >= 0) keep_stem(i);
        if (problem_.holds_chambers())
            for (std::size_t c = 0; c < problem_.chamber.size(); ++c) keep_chamber(c);
    }

    void add_stem_rows(CoinPackedMatrix& matrix) {
        stem_row_.assign(problem_.seats.size(), -1);
        if (!problem_.holds_stems()) return;
        for (std::size_t i = 0; i < problem_.seats.size(); ++i) {
            if (!problem_.seats[i].stem) continue;
            const int columns[] = {column(i), window_column(problem_.seats[i].kind)};
            const double values[] = {1, -1};
            stem_row_[i] = matrix.getNumRows();
            matrix.appendRow(2, columns, values);
        }
    }

    void add_chamber_rows(CoinPackedMatrix& matrix) {
        first_chamber_row_ = matrix.getNumRows();
        if (!problem_.holds_chambers()) return;
        for (std::size_t c = 0; c < problem_.chamber.size(); ++c) {
            std::vector<int> columns{chamber_column()};
            std::vector<double> values{-1};
            for (std::size_t i = 0; i < problem_.seats.size(); ++i)
                if (problem_.seats[i].cylinder == c) {
                    columns.push_back(column(i));
                    values.push_back(problem_.area[problem_.seats[i].kind] / unit_);
                }
            matrix.appendRow(static_cast<int>(columns.size()), columns.data(), values.data());
            columns.push_back(slack_column());
            values.push_back(-1);
            matrix.appendRow(static_cast<int>(columns.size()), columns.data(), values.data());
        }
    }

    const DepthProblem& problem_;
    double unit_ = 1;
    std::vector<int> stem_row_;
    int first_chamber_row_ = 0;
    ClpSimplex model_;
};

// Lets one limit go; takes it back unless the rest is infeasible still. True: it may stay out.
template <class Free, class Keep>
Solved<bool> can_go(Program& program, Free free, Keep keep) {
    free();
    const auto outcome = program.solve();
    if (!outcome) return tl::unexpected(outcome.error());
    if (*outcome == Program::Outcome::infeasible) return true;
    keep();
    return false;
}

}  // namespace

Solved<std::optional<LpPlan>> solve_depths(const DepthProblem& problem) {
    Program program(problem);
    const auto outcome = program.solve();
    if (!outcome) return tl::unexpected(outcome.error());
    if (*outcome == Program::Outcome::infeasible) return std::optional<LpPlan>{};
    LpPlan plan;
    for (std::size_t i = 0; i < problem.seats.size(); ++i) {
        plan.depth.push_back(std::clamp(program.depth(i), problem.seats[i].low, problem.seats[i].high));
        plan.total += plan.depth.back();
    }
    return std::optional<LpPlan>{plan};
}

Solved<std::optional<double>> least_chamber_spread(const DepthProblem& problem) {
    if (!problem.holds_chambers()) return std::optional<double>{};
    Program program(problem);
    program.seek_least_chamber_spread();
    const auto outcome = program.solve();
    if (!outcome) return tl::unexpected(outcome.error());
    if (*outcome == Program::Outcome::infeasible) return std::optional<double>{};
    return std::optional<double>{*problem.chamber_spread + std::max(0.0, program.slack())};
}

Solved<Quarrel> quarrel_of(const DepthProblem& problem) {
    Program program(problem);
    program.seek_anything();
    const auto outcome = program.solve();
    if (!outcome) return tl::unexpected(outcome.error());
    if (*outcome == Program::Outcome::optimal) return Quarrel{};
    Quarrel quarrel;
    std::optional<SolverError> error;
    const auto filter = [&](std::vector<std::size_t>& kept, std::size_t i, auto free, auto keep) {
        if (error) return;
        const auto gone = can_go(program, free, keep);
        if (!gone)
            error = gone.error();
        else if (!*gone)
            kept.push_back(i);
    };
    if (problem.holds_chambers())
        for (std::size_t c = 0; c < problem.chamber.size(); ++c)
            filter(
                quarrel.chamber, c, [&] { program.free_chamber(c); }, [&] { program.keep_chamber(c); });
    for (std::size_t i = 0; i < problem.seats.size(); ++i) {
        if (problem.holds_stems() && problem.seats[i].stem)
            filter(
                quarrel.stem, i, [&] { program.free_stem(i); }, [&] { program.keep_stem(i); });
        filter(
            quarrel.cleanup, i, [&] { program.free_cleanup(i); }, [&] { program.keep_cleanup(i); });
        if (problem.seats[i].high < no_limit)
            filter(
                quarrel.most_depth, i, [&] { program.free_most_depth(i); },
                [&] { program.keep_most_depth(i); });
    }
    if (error) return tl::unexpected(*error);
    return quarrel;
}

}  // namespace seatwright::shape
