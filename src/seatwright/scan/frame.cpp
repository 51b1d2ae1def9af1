#include "seatwright/scan/frame.hpp"

#include <algorithm>

#include "seatwright/base/units.hpp"

namespace seatwright::scan {

Frame::Frame(const Plan& plan, bool end_for_end) : layout_(plan.layout) {
    turn_ = plane_rotation(-(layout_.row_shown ? layout_.turn : 0) - (end_for_end ? pi : 0));
    if (end_for_end) std::reverse(layout_.cylinders.begin(), layout_.cylinders.end());
    Vec2 first = Vec2::Zero();
    if (!layout_.cylinders.empty())
        first = layout_.cylinders.front().centre;
    else
        for (const auto& m : plan.marks.marks) first += m.at / static_cast<double>(plan.marks.marks.size());
    origin_ = turn_ * first;
    for (const auto& m : plan.marks.marks) marks_.push_back(at(m.at));
    for (const auto& c : layout_.cylinders) cylinders_.push_back(at(c.centre));
}

Vec3 Frame::way(const Vec3& d) const {
    Vec3 out = d;
    out.head<2>() = turn_ * d.head<2>();
    return out;
}

Vec3 Frame::at(const Vec3& p) const {
    Vec3 out = way(p);
    out.head<2>() -= origin_;
    return out;
}

Cylinder Frame::of(Cylinder c) const {
    c.at = at(c.at);
    c.axis = way(c.axis);
    return c;
}

Placed Frame::of(const Pose& deck) const {
    Placed out;
    out.mm = deck.mm;
    out.turn = deck.turn;
    out.turn.topRows<2>() = turn_ * deck.turn.topRows<2>();
    out.shift = Vec3(-origin_.x(), -origin_.y(), -deck.level);
    return out;
}

Mat3 Frame::own_covariance(const FoundBore& b, double along) const {
    Eigen::Matrix<double, 3, 6> j;
    j.col(0) = way(b.fit.frame.u);
    j.col(1) = way(b.fit.frame.v);
    j.col(2) = along * j.col(0);
    j.col(3) = along * j.col(1);
    j.col(4).setZero();
    j.col(5) = way(b.fit.cylinder.axis);
    Eigen::Matrix<double, 6, 6> c = Eigen::Matrix<double, 6, 6>::Zero();
    c.topLeftCorner<5, 5>() = b.covariance;
    if (b.seat) c(5, 5) = b.seat->u_height * b.seat->u_height;
    return j * c * j.transpose();
}

// How far a place moves with what origin and row take of a valve.
Mat3 Frame::moved_by(const On& valve, const Vec2& at) const {
    Mat3 j = Mat3::Zero();
    const auto in = static_cast<double>(layout_.cylinders[valve.cylinder].valves.size());
    if (valve.cylinder == 0) j.topLeftCorner<2, 2>() -= Mat2::Identity() / in;
    double mean = 0, squares = 0;
    for (const auto& p : cylinders_) mean += p.x() / static_cast<double>(cylinders_.size());
    for (const auto& p : cylinders_) squares += (p.x() - mean) * (p.x() - mean);
    if (squares > 0) {
        const double yaw = (cylinders_[valve.cylinder].x() - mean) / squares / in;
        j(0, 1) += at.y() * yaw;
        j(1, 1) -= at.x() * yaw;
    }
    return j;
}

Mat3 Frame::sum(const Vec2& at, std::optional<std::size_t> i, Mat3 out) const {
    for (std::size_t k = 0; k < on_.size(); ++k) {
        Mat3 j = moved_by(on_[k], at);
        if (i == k) j += Mat3::Identity();
        out += j * on_[k].own * j.transpose();
    }
    return out;
}

}  // namespace seatwright::scan
