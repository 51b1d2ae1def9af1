#include "seatwright/scan/head.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "seatwright/drawing/drawing.hpp"
#include "seatwright/drawing/holes.hpp"
#include "seatwright/drawing/layout.hpp"
#include "seatwright/drawing/told.hpp"
#include "seatwright/scan/slots.hpp"
#include "seatwright/scan/sorted.hpp"

namespace seatwright::scan {
namespace {

// The sizes made alike where they are: measured ones of one drill differ by their noise.
std::vector<double> made_alike(const std::vector<double>& sizes, double within) {
    std::vector<std::size_t> order(sizes.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return sizes[a] < sizes[b]; });
    std::vector<double> out = sizes;
    for (std::size_t i = 0; i < order.size();) {
        std::size_t end = i + 1;
        double sum = sizes[order[i]];
        while (end < order.size() && sizes[order[end]] - sizes[order[end - 1]] < within)
            sum += sizes[order[end++]];
        for (std::size_t k = i; k < end; ++k) out[order[k]] = sum / static_cast<double>(end - i);
        i = end;
    }
    return out;
}

class Maker {
  public:
    Maker(const Found& found, const Told& told, Scan& out, Head& head)
        : found_(found), told_(told), out_(out), head_(head), sorted_(sorted(found)) {}

    bool make() {
        head_.grooves = sorted_.grooves;
        head_.strays = found_.part.size() - sorted_.part;
        if (sorted_.guides.empty() && sorted_.short_guides.empty() && sorted_.holes.empty()) return false;
        marks();
        layout();
        valves();
        holes();
        repeats();
        return true;
    }

  private:
    // Where the valve stands on its axis: at its gauge circle, else at the height of those like it, else
    // where the axis comes out of the deck.
    double along_of(const FoundBore& b) const {
        const auto& c = b.fit.cylinder;
        if (b.seat) return b.seat->height;
        double sum = 0, n = 0;
        for (const auto* g : sorted_.guides)
            if (g->seat && std::abs(g->fit.cylinder.radius / c.radius - 1) < 0.05 && like_axis(*g, b)) {
                sum += on_axis(*g, g->seat->height).z();
                ++n;
            }
        const bool guide =
            std::find(sorted_.guides.begin(), sorted_.guides.end(), &b) != sorted_.guides.end() ||
            std::find(sorted_.short_guides.begin(), sorted_.short_guides.end(), &b) !=
                sorted_.short_guides.end();
        return ((guide && n > 0 ? sum / n : 0) - c.at.z()) / c.axis.z();
    }
    static bool like_axis(const FoundBore& a, const FoundBore& b) {
        constexpr double alike = 0.03;
        return a.fit.cylinder.axis.cross(b.fit.cylinder.axis).norm() < alike;
    }

    void add_mark(const Vec2& at, double bore, double seat, std::string name) {
        drawing::Mark mark;
        mark.at = at;
        drawing::Ring ring;
        ring.centre = at;
        ring.a = ring.b = bore;
        mark.rings.push_back(ring);
        if (seat > bore) {
            ring.a = ring.b = seat;
            mark.rings.push_back(ring);
        }
        // Groups by name and size.
        const auto key = std::pair{name, std::llround(100 * bore) * 100000 + std::llround(100 * seat)};
        const auto [it, fresh] = group_of_.try_emplace(key, names_.size());
        if (fresh) names_.push_back(std::move(name));
        mark.group = it->second;
        marks_.marks.push_back(std::move(mark));
        marks_.groups = names_.size();
    }

    void marks() {
        std::vector<const FoundBore*> all = sorted_.guides;
        all.insert(all.end(), sorted_.short_guides.begin(), sorted_.short_guides.end());
        std::vector<double> bores, seats;
        std::vector<Slot> stand;
        for (const auto* b : all) {
            bores.push_back(b->fit.cylinder.radius);
            seats.push_back(b->seat ? b->seat->gauge : 0);
        }
        bores = made_alike(bores, 0.08);
        seats = made_alike(seats, 0.3);
        head_.seats_seen = std::any_of(seats.begin(), seats.end(), [](double s) { return s > 0; });
        // One whose seat is not seen stands in its row as those do that are like it.
        for (std::size_t i = 0; i < all.size(); ++i) {
            double best = 0.9;
            for (std::size_t k = 0; k < all.size() && !all[i]->seat; ++k) {
                const double alike = all[i]->fit.cylinder.axis.dot(all[k]->fit.cylinder.axis);
                if (!all[k]->seat || bores[k] != bores[i] || alike < best) continue;
                best = alike;
                seats[i] = seats[k];
            }
        }
        for (std::size_t i = 0; i < all.size(); ++i)
            stand.push_back({on_axis(*all[i], along_of(*all[i])).head<2>(), bores[i], seats[i]});
        known_ = stand.size();
        for (const auto& empty : empty_slots(stand)) stand.push_back(empty);
        for (const auto& s : stand) {
            add_mark(s.at, s.bore, s.seat, "valve");
        }
        slots_ = stand.size();
        std::vector<double> holes;
        for (const auto* h : sorted_.holes) holes.push_back(h->fit.cylinder.radius);
        holes = made_alike(holes, 0.08);
        for (std::size_t i = 0; i < holes.size(); ++i)
            add_mark(on_axis(*sorted_.holes[i], along_of(*sorted_.holes[i])).head<2>(), holes[i], 0, "");
        marks_.shifted.resize(marks_.marks.size());
        hints_.assign(names_.size(), "");
    }

    void layout() {
        if (slots_ > 0)
            if (auto found = drawing::layout_of(marks_, names_)) layout_ = std::move(*found);
        head_.row_shown = layout_.row_shown;
        double turn = layout_.row_shown ? layout_.turn : 0;
        if (told_.end_for_end) turn += pi;
        yaw_ = turn;
        turn_ = plane_rotation(-turn);
        Vec2 origin = Vec2::Zero();
        if (!layout_.cylinders.empty())
            origin = (told_.end_for_end ? layout_.cylinders.back() : layout_.cylinders.front()).centre;
        else
            for (const auto& m : marks_.marks) origin += m.at / static_cast<double>(marks_.marks.size());
        origin_ = turn_ * origin;
        if (told_.end_for_end) std::reverse(layout_.cylinders.begin(), layout_.cylinders.end());
        for (const auto& m : marks_.marks) at_.emplace_back(turn_ * m.at - origin_);
        for (const auto& c : layout_.cylinders) cylinders_.emplace_back(turn_ * c.centre - origin_);
        out_.cylinders = static_cast<int>(cylinders_.size());
    }

    // A place's covariance along the axis and across it, in the head frame.
    Mat3 covariance_at(const FoundBore& b, double along) const {
        Eigen::Matrix<double, 3, 6> j;
        const Mat3 turn = turn3();
        j.col(0) = turn * b.fit.frame.u;
        j.col(1) = turn * b.fit.frame.v;
        j.col(2) = along * j.col(0);
        j.col(3) = along * j.col(1);
        j.col(4).setZero();
        j.col(5) = turn * b.fit.cylinder.axis;
        Eigen::Matrix<double, 6, 6> c = Eigen::Matrix<double, 6, 6>::Zero();
        c.topLeftCorner<5, 5>() = b.covariance;
        if (b.seat) c(5, 5) = b.seat->u_height * b.seat->u_height;
        return j * c * j.transpose();
    }
    Mat3 turn3() const {
        Mat3 out = Mat3::Identity();
        out.topLeftCorner<2, 2>() = turn_;
        return out;
    }

    // The frame stands on the valves themselves: how far a place moves with what origin and row take of valve
    // k.
    Mat3 moved_by(std::size_t k, const Vec2& at) const {
        Mat3 j = Mat3::Zero();
        const std::size_t c = placed_[k].cylinder;
        const auto in = static_cast<double>(layout_.cylinders[c].valves.size());
        if (c == 0) j.topLeftCorner<2, 2>() -= Mat2::Identity() / in;
        double mean = 0, squares = 0;
        for (const auto& p : cylinders_) mean += p.x() / static_cast<double>(cylinders_.size());
        for (const auto& p : cylinders_) squares += (p.x() - mean) * (p.x() - mean);
        if (squares > 0) {
            const double yaw = (cylinders_[c].x() - mean) / squares / in;
            j(0, 1) += at.y() * yaw;
            j(1, 1) -= at.x() * yaw;
        }
        return j;
    }

    // Of valve i (none: of a hole, whose own is given) in the head's frame.
    Mat3 in_frame(const Vec2& at, const Mat3& own, std::optional<std::size_t> i) const {
        Mat3 out = i ? Mat3(Mat3::Zero()) : own;
        for (std::size_t k = 0; k < placed_.size(); ++k) {
            Mat3 j = moved_by(k, at);
            if (i == k) j += Mat3::Identity();
            out += j * placed_[k].covariance * j.transpose();
        }
        return out;
    }

    void valves() {
        if (layout_.cylinders.empty()) return;
        const auto kinds = drawing::kinds_of(marks_, layout_, std::vector<std::string>(names_.size()));
        std::vector<drawing::Valve> named;
        std::vector<std::size_t> mark_of;
        for (std::size_t c = 0; c < layout_.cylinders.size(); ++c) {
            auto order = layout_.cylinders[c].valves;
            std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
                constexpr double tie = 0.5;
                return std::abs(at_[a].x() - at_[b].x()) > tie ? at_[a].x() < at_[b].x()
                                                               : at_[a].y() < at_[b].y();
            });
            for (const auto m : order) {
                drawing::Valve v;
                v.cylinder = static_cast<int>(c) + 1;
                v.kind = head_.seats_seen ? kinds.of.at(m) : std::nullopt;
                head_.kinds_known = head_.kinds_known && v.kind.has_value();
                v.x = {at_[m].x(), 0};
                v.y = {at_[m].y(), 0};
                named.push_back(v);
                mark_of.push_back(m);
            }
        }
        drawing::name_valves(named);
        for (std::size_t i = 0; i < named.size(); ++i) {
            const auto m = mark_of[i];
            if (m >= sorted_.guides.size()) {
                not_seen(m, named[i]);
                continue;
            }
            const FoundBore& b = *sorted_.guides[m];
            placed_.push_back(
                {static_cast<std::size_t>(named[i].cylinder - 1), covariance_at(b, along_of(b))});
            out_.valves.push_back(valve(b, named[i], m));
        }
        for (std::size_t i = 0; i < placed_.size(); ++i) {
            auto& v = out_.valves[i];
            v.covariance = in_frame({*v.x.value, *v.y.value}, placed_[i].covariance, i);
            v.x.u = std::sqrt(v.covariance(0, 0));
            v.y.u = std::sqrt(v.covariance(1, 1));
            v.z.u = std::sqrt(v.covariance(2, 2));
        }
    }

    void not_seen(std::size_t m, const drawing::Valve& named) {
        NotSeen n;
        n.id = named.id;
        n.at = at_[m];
        n.expected = m >= known_;
        if (!n.expected) {
            const auto* b = sorted_.short_guides[m - sorted_.guides.size()];
            n.length = b->length();
            n.arc = b->arc;
        }
        head_.not_seen.push_back(n);
    }

    Valve valve(const FoundBore& b, const drawing::Valve& named, std::size_t m) const {
        Valve v;
        v.id = named.id;
        v.cylinder = named.cylinder;
        v.kind = named.kind;
        const Vec3 p = on_axis(b, along_of(b));
        v.x.value = at_[m].x();
        v.y.value = at_[m].y();
        if (b.seat) v.z.value = p.z();
        v.z_taken = p.z();
        const Vec3 axis = turn3() * b.fit.cylinder.axis;
        v.incline.value = std::atan2(axis.y(), axis.z());
        v.cant.value = std::atan2(axis.x(), axis.z());
        const Vec3 du = turn3() * b.fit.frame.u, dv = turn3() * b.fit.frame.v;
        const auto u_of = [&](int k) {
            // d atan2(a_k, a_z) = (a_z·da_k − a_k·da_z)/(a_k² + a_z²).
            const double size = axis[k] * axis[k] + axis.z() * axis.z();
            const Vec2 j((axis.z() * du[k] - axis[k] * du.z()) / size,
                         (axis.z() * dv[k] - axis[k] * dv.z()) / size);
            return std::sqrt(j.dot(b.covariance.block<2, 2>(2, 2) * j));
        };
        v.incline.u = u_of(1);
        v.cant.u = u_of(0);
        v.bore = {2 * b.fit.cylinder.radius, 2 * std::sqrt(b.covariance(4, 4))};
        v.pin = b.pin;
        v.length = b.length();
        v.arc = b.arc;
        v.points = b.fit.count;
        v.sd = b.fit.sd;
        if (b.seat) seat(*b.seat, v);
        return v;
    }

    static void seat(const FoundSeat& s, Valve& v) {
        const Facet& face = s.seat.seat_face();
        v.gauge = {2 * s.gauge, 2 * s.u_gauge};
        v.seat_angle = {face.angle, std::sqrt(s.covariance[s.seat.face](1, 1))};
        v.off_guide = face.off.norm();
        v.face_in_doubt = s.seat.in_doubt;
        for (std::size_t k = 0; k < s.seat.facets.size(); ++k) {
            const auto& f = s.seat.facets[k];
            const bool is_face = k == s.seat.face;
            v.facets.push_back({f.angle, std::sqrt(s.covariance[k](1, 1)),
                                2 * (is_face ? s.edges[0] : f.inner), 2 * (is_face ? s.edges[1] : f.outer),
                                is_face});
        }
    }

    void holes() {
        drawing::Holes which;
        if (!layout_.cylinders.empty()) {
            auto names = names_;
            which = drawing::holes_of(marks_, layout_, at_, cylinders_, names, hints_);
        } else {
            for (std::size_t m = slots_; m < marks_.marks.size(); ++m) which.others.push_back(m);
        }
        if (which.bolts.empty()) most_alike(which);
        double sum = 0;
        const auto add = [&](const std::vector<std::size_t>& all, survey::HoleKind kind, const char* word) {
            int n = 0;
            for (const auto m : all) {
                const FoundBore& b = *sorted_.holes[m - slots_];
                Hole h;
                h.id = word + std::string(" ") + std::to_string(++n);
                const Mat3 c = in_frame(at_[m], covariance_at(b, along_of(b)), std::nullopt);
                h.x = {at_[m].x(), std::sqrt(c(0, 0))};
                h.y = {at_[m].y(), std::sqrt(c(1, 1))};
                h.diameter = {2 * b.fit.cylinder.radius, 2 * std::sqrt(b.covariance(4, 4))};
                h.kind = kind;
                h.length = b.length();
                h.arc = b.arc;
                h.lean = std::acos(std::min(1.0, b.fit.cylinder.axis.z()));
                if (kind == survey::HoleKind::bolt) sum += 2 * b.fit.cylinder.radius;
                out_.holes.push_back(std::move(h));
            }
        };
        add(which.bolts, survey::HoleKind::bolt, "bolt");
        add(which.plugs, survey::HoleKind::plug, "plug");
        add(which.others, survey::HoleKind::other, "hole");
        if (which.bolts.empty()) return;
        const auto n = static_cast<double>(which.bolts.size());
        out_.bolt_diameter.value = sum / n;
        double squares = 0;
        for (const auto& h : out_.holes)
            if (h.kind == survey::HoleKind::bolt)
                squares += std::pow(*h.diameter.value - sum / n, 2) + h.diameter.u * h.diameter.u;
        out_.bolt_diameter.u = std::sqrt(squares) / n;
    }

    // Of holes square to the deck that begin at it those of the size most are of.
    void most_alike(drawing::Holes& which) {
        std::map<std::size_t, std::vector<std::size_t>> by_group;
        for (const auto m : which.others) {
            const FoundBore& b = *sorted_.holes[m - slots_];
            constexpr double at_deck = 4;
            if (b.square && on_axis(b, b.fit.cylinder.high).z() > -at_deck)
                by_group[marks_.marks[m].group].push_back(m);
        }
        const std::vector<std::size_t>* best = nullptr;
        for (const auto& [group, all] : by_group)
            if (best == nullptr || all.size() > best->size()) best = &all;
        if (best == nullptr || best->size() < 2) return;
        which.bolts = *best;
        head_.bolts_in_doubt = true;
        std::erase_if(which.others, [&](std::size_t m) {
            return std::find(which.bolts.begin(), which.bolts.end(), m) != which.bolts.end();
        });
    }

    void repeats() {
        if (out_.valves.empty() || !head_.not_seen.empty()) return;
        drawing::Drawing as_drawn;
        as_drawn.cylinders = out_.cylinders;
        for (const auto& v : out_.valves) {
            drawing::Valve d;
            d.id = v.id;
            d.cylinder = v.cylinder;
            d.x = v.x;
            d.y = v.y;
            as_drawn.valves.push_back(std::move(d));
            as_drawn.u_place = std::max({as_drawn.u_place, v.x.u, v.y.u});
        }
        for (const auto& h : out_.holes) {
            drawing::Hole d;
            d.x = h.x;
            d.y = h.y;
            d.kind = h.kind;
            as_drawn.holes.push_back(d);
        }
        out_.repeats = drawing::repeats_of(as_drawn);
    }

    const Found& found_;
    const Told& told_;
    Scan& out_;
    Head& head_;
    Sorted sorted_;
    drawing::Marks marks_;
    std::map<std::pair<std::string, long long>, std::size_t> group_of_;
    std::vector<std::string> names_, hints_;
    drawing::Layout layout_;
    std::size_t known_ = 0, slots_ = 0;
    double yaw_ = 0;
    Mat2 turn_ = Mat2::Identity();
    Vec2 origin_ = Vec2::Zero();
    std::vector<Vec2> at_, cylinders_;
    struct Placed {
        std::size_t cylinder = 0;
        Mat3 covariance;  // before the frame's part
    };
    std::vector<Placed> placed_;  // the valves told, in their order
};

}  // namespace

bool make_head(const Found& found, const Told& told, Scan& out, Head& head) {
    return Maker(found, told, out, head).make();
}

}  // namespace seatwright::scan
