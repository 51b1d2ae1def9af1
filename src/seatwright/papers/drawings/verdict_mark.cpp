#include "seatwright/papers/drawings/verdict_mark.hpp"

namespace seatwright::papers {

Ink verdict_ink(prove::Verdict verdict) {
    return verdict == prove::Verdict::pass ? Ink::line : Ink::warn;
}

void verdict_mark(Drawing& drawing, Vec2 centre, double radius, prove::Verdict verdict) {
    const double r = radius;
    const Stroke stroke{verdict_ink(verdict), 0.16 * r};
    const auto at = [&](double x, double y) { return Vec2(centre.x() + x * r, centre.y() + y * r); };
    switch (verdict) {
        case prove::Verdict::pass:
            drawing.circle(centre, r, stroke);
            drawing.polyline({at(-0.45, 0.05), at(-0.1, 0.4), at(0.5, -0.4)}, stroke);
            break;
        case prove::Verdict::fail:
            drawing.rect(at(-0.9, -0.9), 1.8 * r, 1.8 * r, stroke);
            drawing.line(at(-0.5, -0.5), at(0.5, 0.5), stroke);
            drawing.line(at(-0.5, 0.5), at(0.5, -0.5), stroke);
            break;
        case prove::Verdict::undecided:
            drawing.polyline({at(0, -1.1), at(1.1, 0), at(0, 1.1), at(-1.1, 0)}, stroke, true);
            drawing.text(at(0, 0.42), "?", 1.25 * r, Anchor::middle, verdict_ink(verdict), true);
            break;
        case prove::Verdict::not_measured:
            drawing.circle(centre, r, {verdict_ink(verdict), 0.16 * r, "0.6 0.5"});
            break;
    }
}

}  // namespace seatwright::papers
