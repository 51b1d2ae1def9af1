#include "seatwright/survey/model.hpp"

#include <array>
#include <cmath>

namespace seatwright::survey {
namespace {

// The rotation of a setup and its derivatives by tilt, swing, yaw.
struct Turn {
    Mat3 r;
    std::array<Mat3, 3> by;
};

Mat3 about_x(double angle, bool slope) {
    const double c = std::cos(angle), s = std::sin(angle);
    Mat3 out = Mat3::Zero();
    if (slope) {
        out << 0, 0, 0, 0, -s, -c, 0, c, -s;
    } else {
        out << 1, 0, 0, 0, c, -s, 0, s, c;
    }
    return out;
}

Mat3 about_y(double angle, bool slope) {
    const double c = std::cos(angle), s = std::sin(angle);
    Mat3 out = Mat3::Zero();
    if (slope) {
        out << -s, 0, c, 0, 0, 0, -c, 0, -s;
    } else {
        out << c, 0, s, 0, 1, 0, -s, 0, c;
    }
    return out;
}

Mat3 about_z(double angle, bool slope) {
    const double c = std::cos(angle), s = std::sin(angle);
    Mat3 out = Mat3::Zero();
    if (slope) {
        out << -s, -c, 0, c, -s, 0, 0, 0, 0;
    } else {
        out << c, -s, 0, s, c, 0, 0, 0, 1;
    }
    return out;
}

Turn turn_and_slopes(double tilt, double swing, double yaw) {
    const Mat3 x = about_x(tilt, false), y = about_y(swing, false), z = about_z(yaw, false);
    return {z * x * y,
            {z * about_x(tilt, true) * y, z * x * about_y(swing, true), about_z(yaw, true) * x * y}};
}

// A guide's axis and its derivatives by incline and cant.
struct Axis {
    Vec3 a, by_incline, by_cant;
};

Axis axis_and_slopes(double incline, double cant) {
    const Vec3 v(std::tan(cant), std::tan(incline), 1);
    const double n = v.norm();
    const Vec3 a = v / n;
    const auto along = [&](const Vec3& dv) -> Vec3 { return (dv - a * a.dot(dv)) / n; };
    return {a, along(Vec3(0, 1 + v.y() * v.y(), 0)), along(Vec3(1 + v.x() * v.x(), 0, 0))};
}

class Evaluation {
  public:
    Evaluation(const Layout& layout, const Row& row, const Eigen::VectorXd& u, Gradient& gradient)
        : layout_(layout), row_(row), u_(u), gradient_(gradient) {
        gradient_.clear();
    }

    double value() {
        switch (row_.says) {
            case Row::Says::coordinate:
                return coordinate();
            case Row::Says::deck:
                return deck();
            case Row::Says::tilt:
                return sensed(0, layout_.tilt_zero());
            case Row::Says::swing:
                return sensed(1, layout_.swing_zero());
            case Row::Says::lean:
            case Row::Says::plumb:
                return lean();
            case Row::Says::turning:
                return turning();
            case Row::Says::sum:
                break;
        }
        double out = 0;
        for (const auto& [i, w] : row_.weights) {
            out += w * u_[i];
            add(i, w);
        }
        return out;
    }

  private:
    void add(Eigen::Index i, double slope) { gradient_.emplace_back(i, slope); }

    Turn turn(std::size_t setup) const {
        const auto s = layout_.setup(setup);
        return turn_and_slopes(u_[s], u_[s + 1], u_[s + 2]);
    }

    double coordinate() {
        const auto s = layout_.setup(row_.setup);
        const Turn t = turn(row_.setup);
        Vec3 p;
        if (row_.of == Row::Of::hole) {
            const auto h = layout_.hole(row_.which);
            p = {u_[h], u_[h + 1], row_.over};
            for (int k = 0; k < 2; ++k) add(h + k, t.r(row_.axis, k));
        } else {
            const auto g = layout_.guide(row_.which);
            const Axis a = axis_and_slopes(u_[g + 3], u_[g + 4]);
            p = Vec3(u_[g], u_[g + 1], u_[g + 2]) + row_.over * a.a;
            for (int k = 0; k < 3; ++k) add(g + k, t.r(row_.axis, k));
            if (row_.over != 0) {
                add(g + 3, row_.over * t.r.row(row_.axis).dot(a.by_incline));
                add(g + 4, row_.over * t.r.row(row_.axis).dot(a.by_cant));
            }
        }
        for (int k = 0; k < 3; ++k) add(s + k, t.by[static_cast<std::size_t>(k)].row(row_.axis).dot(p));
        add(s + 3 + row_.axis, 1);
        return t.r.row(row_.axis).dot(p) + u_[s + 3 + row_.axis];
    }

    double deck() {
        const auto s = layout_.setup(row_.setup);
        const Turn t = turn(row_.setup);
        const Vec3 from = row_.at - u_.segment<3>(s + 3);
        for (int k = 0; k < 3; ++k) {
            add(s + k, t.by[static_cast<std::size_t>(k)].col(2).dot(from));
            add(s + 3 + k, -t.r(k, 2));
        }
        return t.r.col(2).dot(from);
    }

    double sensed(int angle, Eigen::Index zero) {
        add(layout_.setup(row_.setup) + angle, 1);
        add(zero, 1);
        return u_[layout_.setup(row_.setup) + angle] + u_[zero];
    }

    // Seen in the machine's Y-Z view (axis 1) or X-Z view (axis 0).
    double lean() {
        const auto s = layout_.setup(row_.setup);
        const Turn t = turn(row_.setup);
        Axis a{Vec3::UnitZ(), Vec3::Zero(), Vec3::Zero()};
        if (row_.of == Row::Of::guide) {
            const auto g = layout_.guide(row_.which);
            a = axis_and_slopes(u_[g + 3], u_[g + 4]);
        }
        const Vec3 m = t.r * a.a;
        const int k = row_.axis;
        const double square = m[k] * m[k] + m.z() * m.z();
        const auto slope = [&](const Vec3& dm) {
            return row_.sign * (m.z() * dm[k] - m[k] * dm.z()) / square;
        };
        for (int i = 0; i < 3; ++i) add(s + i, slope(t.by[static_cast<std::size_t>(i)] * a.a));
        if (row_.of == Row::Of::guide) {
            const auto g = layout_.guide(row_.which);
            add(g + 3, slope(t.r * a.by_incline));
            add(g + 4, slope(t.r * a.by_cant));
        }
        double out = row_.sign * std::atan2(m[k], m.z());
        if (row_.says == Row::Says::lean) {
            add(layout_.bias(), 1);
            out += u_[layout_.bias()];
        } else {
            add(layout_.set_off(row_.setup, k), -1);
            out -= u_[layout_.set_off(row_.setup, k)];
        }
        return out;
    }

    // t + M is the same in all setups, M = Rz(yaw)·Rx(tilt)·(q + Ry(swing)·p): q from the tilt's axis, p from
    // the swing's.
    Vec3 arm(std::size_t setup, double sign, int axis) {
        const auto s = layout_.setup(setup), x = layout_.axes();
        const Vec3 q(0, u_[x], u_[x + 1]), p(u_[x + 2], 0, u_[x + 3]);
        const double tilt = u_[s], swing = u_[s + 1], yaw = u_[s + 2];
        const Mat3 zx = about_z(yaw, false) * about_x(tilt, false), y = about_y(swing, false);
        const Vec3 inner = q + y * p;
        add(s, sign * (about_z(yaw, false) * about_x(tilt, true) * inner)[axis]);
        add(s + 1, sign * (zx * about_y(swing, true) * p)[axis]);
        add(s + 2, sign * (about_z(yaw, true) * about_x(tilt, false) * inner)[axis]);
        add(x, sign * zx(axis, 1));
        add(x + 1, sign * zx(axis, 2));
        const Mat3 zxy = zx * y;
        add(x + 2, sign * zxy(axis, 0));
        add(x + 3, sign * zxy(axis, 2));
        add(s + 3 + axis, sign);
        return u_.segment<3>(s + 3) + zx * inner;
    }

    double turning() {
        if (row_.axis == 3) {
            add(layout_.setup(row_.setup) + 2, 1);
            add(layout_.setup(0) + 2, -1);
            return u_[layout_.setup(row_.setup) + 2] - u_[layout_.setup(0) + 2];
        }
        return (arm(row_.setup, 1, row_.axis) - arm(0, -1, row_.axis))[row_.axis];
    }

    const Layout& layout_;
    const Row& row_;
    const Eigen::VectorXd& u_;
    Gradient& gradient_;
};

}  // namespace

bool Layout::is_angle(Eigen::Index i) const {
    const auto setups_end = setup(setups.size());
    if (i < setups_end) return i % 6 < 3;
    if (i < guide(0)) return false;
    if (i < bias()) return (i - guide(0)) % 5 >= 3;
    return i < axes() || i >= set_off(0, 0);
}

Layout layout_of(const Readings& readings) {
    Layout out;
    out.clamped_once = readings.clamped_once;
    const auto note = [](std::vector<std::string>& names, std::map<std::string, std::size_t>& of,
                         const std::string& name) {
        if (of.emplace(name, names.size()).second) names.push_back(name);
    };
    for (const auto& p : readings.points) {
        note(out.setups, out.setup_of, p.setup);
        if (p.what == What::hole) {
            note(out.holes, out.hole_of, p.id);
        } else if (p.what != What::deck) {
            note(out.guides, out.guide_of, p.id);
        }
    }
    for (const auto& l : readings.levels) {
        note(out.setups, out.setup_of, l.setup);
        if (!l.on_deck) note(out.guides, out.guide_of, l.id);
    }
    for (const auto& s : readings.sizes) note(out.guides, out.guide_of, s.id);
    return out;
}

double model(const Layout& layout, const Row& row, const Eigen::VectorXd& unknowns, Gradient& gradient) {
    return Evaluation(layout, row, unknowns, gradient).value();
}

Mat3 turn_of(const Layout& layout, std::size_t setup, const Eigen::VectorXd& unknowns) {
    const auto s = layout.setup(setup);
    return about_z(unknowns[s + 2], false) * attitude_rotation(unknowns[s], unknowns[s + 1]);
}

}  // namespace seatwright::survey
