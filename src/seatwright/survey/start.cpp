#include "seatwright/survey/start.hpp"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <array>
#include <cmath>
#include <optional>

namespace seatwright::survey {
namespace {

using Says = Row::Says;
using Of = Row::Of;

// X, Y, Z of one thing as one setup has them.
struct StartPlace {
    std::array<std::optional<double>, 3> at;
    double over = 0;
    bool flat() const { return at[0] && at[1]; }
};

class Starter {
  public:
    Starter(const Layout& layout, const std::vector<Row>& rows)
        : l_(layout), rows_(rows), places_(layout.setups.size()) {
        out_.unknowns = Eigen::VectorXd::Zero(layout.size());
        out_.component.assign(layout.setups.size(), none);
        out_.hole_placed.assign(layout.holes.size(), false);
        out_.guide_placed.assign(layout.guides.size(), false);
        out_.hole_component.assign(layout.holes.size(), none);
        out_.guide_component.assign(layout.guides.size(), none);
        for (const auto& row : rows_) {
            if (row.aside || row.says != Says::coordinate) continue;
            auto& of = row.of == Of::hole ? places_[row.setup].holes : places_[row.setup].guides;
            auto& place = of[row.which];
            place.at[static_cast<std::size_t>(row.axis)] = row.value;
            place.over = row.over;
        }
    }

    Start take() {
        for (std::size_t s = 0; s < l_.setups.size(); ++s) attitude(s);
        directions();
        for (std::size_t next = 0; next < l_.setups.size(); ++next) {
            const auto s = fullest();
            if (!s) break;
            out_.component[*s] = next;
            heights(*s, Eigen::Vector2d::Zero());
            place_holes(*s);
            while (const auto near = neighbour()) lay_over(*near, next);
        }
        for (std::size_t s = 0; s < l_.setups.size(); ++s) place_guides(s);
        return std::move(out_);
    }

  private:
    static constexpr std::size_t none = static_cast<std::size_t>(-1);
    struct Places {
        std::map<std::size_t, StartPlace> holes, guides;
    };

    double& u(Eigen::Index i) { return out_.unknowns[i]; }
    Mat3 turn(std::size_t s) const { return turn_of(l_, s, out_.unknowns); }

    void attitude(std::size_t s) {
        std::array<std::optional<double>, 2> set, deck;
        for (const auto& row : rows_) {
            if (row.aside || row.setup != s) continue;
            if (row.says == Says::tilt && !set[0]) set[0] = row.value;
            if (row.says == Says::swing && !set[1]) set[1] = row.value;
            // The deck's normal leans to −Y under a tilt, to +X under a swing.
            if (row.says == Says::lean && row.of == Of::nothing) {
                auto& lean = deck[row.axis == 1 ? 0 : 1];
                if (!lean) lean = row.sign * (row.axis == 1 ? -row.value : row.value);
            }
        }
        for (std::size_t k = 0; k < 2; ++k)
            u(l_.setup(s) + static_cast<Eigen::Index>(k)) = set[k] ? *set[k] : deck[k].value_or(0);
    }

    void directions() {
        for (std::size_t g = 0; g < l_.guides.size(); ++g) {
            std::array<std::optional<double>, 2> lean;
            std::optional<std::size_t> setup;
            for (const auto& row : rows_) {
                if (row.aside || row.of != Of::guide || row.which != g) continue;
                if (row.says == Says::lean) {
                    auto& of = lean[static_cast<std::size_t>(row.axis)];
                    if (!of) of = row.sign * row.value;
                    setup = row.setup;
                } else if (!setup) {
                    setup = row.setup;
                }
            }
            if (!setup) continue;
            const Vec3 machine(std::tan(lean[0].value_or(0)), std::tan(lean[1].value_or(0)), 1);
            const Vec3 a = turn(*setup).transpose() * machine;
            u(l_.guide(g) + 3) = std::atan2(a.y(), a.z());
            u(l_.guide(g) + 4) = std::atan2(a.x(), a.z());
        }
    }

    // The setup not yet laid down that has most places.
    std::optional<std::size_t> fullest() const {
        std::optional<std::size_t> best;
        const auto weight = [&](std::size_t s) {
            return 100 * places_[s].holes.size() + places_[s].guides.size();
        };
        for (std::size_t s = 0; s < l_.setups.size(); ++s)
            if (out_.component[s] == none && (!best || weight(s) > weight(*best))) best = s;
        return best;
    }

    std::size_t shared(std::size_t s) const {
        std::size_t n = 0;
        for (const auto& [h, place] : places_[s].holes) n += place.flat() && out_.hole_placed[h] ? 1 : 0;
        return n;
    }

    std::optional<std::size_t> neighbour() const {
        std::optional<std::size_t> best;
        for (std::size_t s = 0; s < l_.setups.size(); ++s)
            if (out_.component[s] == none && shared(s) > 0 && (!best || shared(s) > shared(*best))) best = s;
        return best;
    }

    // t of a setup, x and y given: z by what was read of the deck.
    void heights(std::size_t s, const Eigen::Vector2d& xy) {
        const auto at = l_.setup(s) + 3;
        out_.unknowns.segment<2>(at) = xy;
        const Mat3 r = turn(s);
        const Vec3 n = r.col(2);
        const auto height = [&](const Vec3& p, double over) {
            return p.z() + (n.head<2>().dot(p.head<2>() - xy) - over) / n.z();
        };
        double sum = 0, count = 0;
        for (const auto& [h, place] : places_[s].holes)
            if (place.flat() && place.at[2]) {
                sum += height({*place.at[0], *place.at[1], *place.at[2]}, place.over);
                ++count;
            }
        for (const auto& row : rows_)
            if (!row.aside && row.says == Says::deck && row.setup == s) {
                sum += height(row.at, row.over);
                ++count;
            }
        u(at + 2) = count > 0 ? sum / count : 0;
    }

    // Head-frame X, Y of what was read at X, Y in a setup and lies at that height over the deck.
    Vec3 in_head(std::size_t s, const StartPlace& place, const Vec3& over, double z) const {
        const Mat3 r = turn(s);
        const Vec3 t = out_.unknowns.segment<3>(l_.setup(s) + 3);
        const Eigen::Vector2d lhs = Eigen::Vector2d(*place.at[0], *place.at[1]) - t.head<2>() -
                                    (r * (over + Vec3(0, 0, z))).head<2>();
        const Eigen::Matrix2d m = r.topLeftCorner<2, 2>();
        const Eigen::Vector2d p = std::abs(m.determinant()) > 0.05 ? Eigen::Vector2d(m.inverse() * lhs) : lhs;
        return {p.x(), p.y(), z};
    }

    void place_holes(std::size_t s) {
        for (const auto& [h, place] : places_[s].holes) {
            if (!place.flat() || out_.hole_placed[h]) continue;
            const Vec3 p = in_head(s, place, {0, 0, place.over}, 0);
            u(l_.hole(h)) = p.x();
            u(l_.hole(h) + 1) = p.y();
            out_.hole_placed[h] = true;
            out_.hole_component[h] = out_.component[s];
        }
    }

    // Yaw and t by the holes that are placed: the rigid fit in the plane of what the setup's attitude makes
    // of them.
    void lay_over(std::size_t s, std::size_t component) {
        const Mat3 r = turn(s);  // yaw 0
        std::vector<Eigen::Vector2d> from, to;
        for (const auto& [h, place] : places_[s].holes) {
            if (!place.flat() || !out_.hole_placed[h]) continue;
            const Vec3 p(u(l_.hole(h)), u(l_.hole(h) + 1), place.over);
            from.emplace_back((r * p).head<2>());
            to.emplace_back(*place.at[0], *place.at[1]);
        }
        Eigen::Vector2d a = Eigen::Vector2d::Zero(), b = a;
        for (std::size_t i = 0; i < from.size(); ++i) {
            a += from[i] / static_cast<double>(from.size());
            b += to[i] / static_cast<double>(from.size());
        }
        double cosine = 0, sine = 0;
        for (std::size_t i = 0; i < from.size(); ++i) {
            const Eigen::Vector2d f = from[i] - a, t = to[i] - b;
            cosine += f.dot(t);
            sine += f.x() * t.y() - f.y() * t.x();
        }
        // A head lies along the table: more is a slip in one of the readings.
        constexpr double most_yaw = 10 * rad_per_deg;
        double yaw = from.size() > 1 ? std::atan2(sine, cosine) : 0;
        if (std::abs(yaw) > most_yaw) yaw = 0;
        u(l_.setup(s) + 2) = yaw;
        out_.component[s] = component;
        heights(s, b - plane_rotation(yaw) * a);
        place_holes(s);
    }

    void place_guides(std::size_t s) {
        constexpr double usual_depth = -5;
        for (const auto& [g, place] : places_[s].guides) {
            if (!place.flat() || out_.guide_placed[g]) continue;
            const auto at = l_.guide(g);
            const Vec3 over = place.over * guide_axis(u(at + 3), u(at + 4));
            // X and Y come from the spindle over the guide, Z from another line with its own height.
            Vec3 p = in_head(s, place, Vec3::Zero(), usual_depth);
            if (place.at[2]) {
                const Vec3 r(*place.at[0], *place.at[1], *place.at[2]);
                p = turn(s).transpose() * (r - Vec3(out_.unknowns.segment<3>(l_.setup(s) + 3))) - over;
            }
            out_.unknowns.segment<3>(at) = p;
            out_.guide_placed[g] = true;
            out_.guide_component[g] = out_.component[s];
        }
    }

    const Layout& l_;
    const std::vector<Row>& rows_;
    std::vector<Places> places_;
    Start out_;
};

}  // namespace

Start start_of(const Layout& layout, const std::vector<Row>& rows) {
    return Starter(layout, rows).take();
}

}  // namespace seatwright::survey
