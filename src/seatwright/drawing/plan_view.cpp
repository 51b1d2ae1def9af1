#include "seatwright/drawing/plan_view.hpp"

#include <Eigen/Geometry>
#include <Eigen/SVD>

#include <fmt/format.h>

#include <cmath>
#include <set>

namespace seatwright::drawing {
namespace {

constexpr double edge = 0.02;      // narrower than this part of its length a curve is seen edge on
constexpr double round_to = 1e-7;  // a circle drawn as an ellipse

struct Unit {
    int number;
    double mm;
    const char* name;
};
// The published numbers; those no head is drawn in (miles, light years) are left out.
constexpr Unit file_units[] = {{1, 25.4, "inches"},    {2, 304.8, "feet"},   {4, 1, "millimetres"},
                               {5, 10, "centimetres"}, {6, 1000, "metres"},  {8, 25.4e-6, "microinches"},
                               {9, 0.0254, "mils"},    {10, 914.4, "yards"}, {13, 0.001, "microns"},
                               {14, 100, "decimetres"}};

class Viewer {
  public:
    Viewer(const Sheet& sheet, double mm, const std::string& file) : sheet_(sheet), file_(file) {
        view_.scale = mm;
    }

    Checked<View> take() {
        block(sheet_.model, Eigen::Affine3d::Identity(), std::nullopt, 0);
        if (!faults_.empty()) return tl::unexpected(faults_);
        return std::move(view_);
    }

  private:
    void fault(int line, std::string text) {
        if (faults_.empty()) faults_.push_back({file_, line, "", std::move(text)});
    }

    Layer layer(const std::string& name) const {
        const auto at = sheet_.layers.find(name);
        return at == sheet_.layers.end() ? Layer{} : at->second;
    }

    // `on`: the layer of the insert, which stands for layer 0 within its block.
    void block(const Block& b, const Eigen::Affine3d& to, const std::optional<std::string>& on, int depth) {
        for (const auto& curve : b.curves) {
            if (!faults_.empty()) return;
            add(curve, to, curve.layer == "0" && on ? *on : curve.layer);
        }
        for (const auto& in : b.inserts) {
            if (!faults_.empty()) return;
            insert(in, to, in.layer == "0" && on ? *on : in.layer, depth);
        }
    }

    void insert(const Insert& in, const Eigen::Affine3d& to, const std::string& on, int depth) {
        if (layer(on).frozen) {
            ++view_.hidden;
            return;
        }
        const auto at = sheet_.blocks.find(in.block);
        if (at == sheet_.blocks.end() || at->second.elsewhere) {
            ++view_.elsewhere;
            return;
        }
        if (at->second.curves.empty() && at->second.inserts.empty()) return;
        if (within_.contains(&at->second))
            return fault(
                in.line,
                fmt::format("block {} is set into itself; draw it out, or take one of the inserts out",
                            in.block));
        if (depth >= deepest)
            return fault(
                in.line,
                fmt::format(
                    "blocks within blocks are more than {} deep; draw them out (explode them) and save again",
                    deepest));
        within_.insert(&at->second);
        const auto& b = at->second;
        for (int row = 0; row < in.rows && faults_.empty(); ++row)
            for (int column = 0; column < in.columns && faults_.empty(); ++column) {
                if (++inserts_ > most_inserts) {
                    fault(in.line, fmt::format("more than {} blocks are set into the drawing; a head has far "
                                               "fewer: draw it out (explode it) and save again",
                                               most_inserts));
                    break;
                }
                Eigen::Affine3d step = to;
                step.rotate(in.plane);
                step.translate(in.at);
                step.rotate(Eigen::AngleAxisd(in.turn, Vec3::UnitZ()));
                step.translate(Vec3(column * in.column_step, row * in.row_step, 0));
                step.scale(in.scale);
                step.translate(-b.base);
                block(b, step, on, depth + 1);
            }
        within_.erase(&b);
    }

    void add(const Curve& curve, const Eigen::Affine3d& to, const std::string& on) {
        const auto l = layer(on);
        if (l.frozen || l.off) {
            ++view_.hidden;
            return;
        }
        if (view_.rings.size() >= most_rings)
            return fault(
                curve.line,
                fmt::format(
                    "more than {} circles are drawn; a head has far fewer: save the view of its deck alone",
                    most_rings));
        const Vec3 centre = to * curve.centre * view_.scale, p = to.linear() * curve.p * view_.scale,
                   q = to.linear() * curve.q * view_.scale;
        if (!centre.allFinite() || !p.allFinite() || !q.allFinite()) return;
        Ring ring;
        ring.centre = centre.head<2>();
        ring.height = centre.z();
        ring.layer = on;
        ring.line = curve.line;
        Vec3 normal = p.cross(q);
        if (!(normal.norm() > 0)) {
            ++view_.edge_on;
            return;
        }
        normal.normalize();
        ring.normal = normal.z() < 0 ? Vec3(-normal) : normal;
        const double pp = p.squaredNorm(), qq = q.squaredNorm();
        ring.round_in_space =
            std::abs(pp - qq) <= 2 * round_to * (pp + qq) && std::abs(p.dot(q)) <= round_to * (pp + qq);
        Mat2 axes;
        axes << p.head<2>(), q.head<2>();
        const Eigen::JacobiSVD<Mat2> svd(axes, Eigen::ComputeFullU);
        ring.a = svd.singularValues()[0];
        ring.b = svd.singularValues()[1];
        if (!(ring.b > edge * ring.a)) {
            ++view_.edge_on;
            return;
        }
        if (ring.round()) {
            // Exactly what was drawn where it was drawn as a circle.
            if (ring.round_in_space && ring.normal.z() > 1 - round_to)
                ring.a = ring.b = std::sqrt(pp);
            else
                ring.a = ring.b = (ring.a + ring.b) / 2;
        } else {
            ring.along = svd.matrixU().col(0);
            if (ring.along.x() < 0 || (ring.along.x() == 0 && ring.along.y() < 0)) ring.along = -ring.along;
        }
        view_.rings.push_back(std::move(ring));
    }

    const Sheet& sheet_;
    std::string file_;
    View view_;
    Faults faults_;
    std::set<const Block*> within_;
    std::size_t inserts_ = 0;
};

}  // namespace

bool Ring::round() const {
    return a - b <= round_to * a;
}

double mm_of_unit(int unit) {
    for (const auto& u : file_units)
        if (u.number == unit) return u.mm;
    return 0;
}

const char* name_of_unit(int unit) {
    for (const auto& u : file_units)
        if (u.number == unit) return u.name;
    return "a unit no head is drawn in";
}

Checked<View> view_of(const Sheet& sheet, double mm, const std::string& file) {
    return Viewer(sheet, mm, file).take();
}

}  // namespace seatwright::drawing
