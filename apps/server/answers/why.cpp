#include "server/answers/why.hpp"

#include <map>
#include <vector>

namespace seatwright::server {

namespace {

using job::Stage;

struct Reason {
    const char* key;
    const char* says;
    const char* formula;
    const char* stored;
};

const std::vector<Reason> hold_reasons{
    {"tilt_deg",
     "The tilt that brings the guide plumb under the spindle. With several guides in a setup it is the "
     "middle of the smallest cone that holds all their axes.",
     "a = (tan cant, tan incline, 1)/|…|; swing = -atan2(a_x, a_z); tilt = atan2(a_y, hypot(a_x, a_z)), so "
     "tan tilt = tan incline · cos cant",
     "compound-angle rule of toolmaking handbooks; rotation algebra"},
    {"plumb_deg", "The angle left between the guide as held and the spindle.",
     "angle between Rx(tilt)·Ry(swing)·a and the Z axis", "vector algebra"},
    {"x_mm", "Where the guide stands on the table, counted from the setup's datum guide.",
     "m = R·(P - P_datum), with the machine's signs on the readout", "rotation algebra"},
    {"span_mm", "The distance of the two posts, to be set with a tape before the head is lifted.",
     "distance of the two bolt holes", "geometry"},
    {"position_sd_mm",
     "How far the head can sit off from one head to the next, since bolts pass their holes with clearance s.",
     "sd = s/4 per axis; sd of yaw = √2·s/(4·span)",
     "a point anywhere in a disc of radius s/2 has that standard deviation per axis"},
    {"slip_factor", "How many times the clamps could hold the head against sliding down its slope.",
     "2·μ·F_clamp/(W·sin slope)", "dry friction (Coulomb); at least 2 is common practice"},
    {"slides_when_released", "Whether the head would slide once the clamps are let go.", "tan slope > μ",
     "dry friction (Coulomb)"},
    {"correction_tilt_deg", "What to turn the tilt by, from the level readings.",
     "lean = (first - second)/2; sensor bias = (first + second)/2; correction = -mean lean",
     "reversal method, as for any level"},
};

const std::vector<Reason> find_reasons{
    {"yaw_deg",
     "How far the row of guides is turned on the table, fitted to all touches at once; one bad touch does "
     "not carry it.",
     "r = Rot(yaw)·(m + δ) + t + e; the most probable yaw, offset and casting deviations",
     "least squares with priors (maximum a posteriori), Gauss-Newton"},
    {"sd_x_mm", "How sure the place of the guide is, touch error, casting scatter and fit together.",
     "covariance by the curvature at the best fit", "Laplace's approximation; linear error propagation"},
    {"enter_probability",
     "The chance that the pilot tip falls inside the guide's mouth without striking the rim.",
     "P(|g + n - programmed| ≤ (mouth - tip)/2), n normal; 1 - exp(-c²/2σ²) when centred and alike in all "
     "directions",
     "two-dimensional normal distribution over a disc (Rayleigh in the simple case)"},
    {"innovation2",
     "How far a touch lies from what all the others foretell, in units of what is to be expected. Beyond the "
     "limit it is set aside and shown, never silently used.",
     "d² = νᵀ S⁻¹ ν against chi-square with 2 degrees, 1 - 0.001/n",
     "Mahalanobis distance; Bonferroni's bound"},
    {"chi2", "Whether the touches fit the declared pattern at all.",
     "sum of squares, priors included, against chi-square with dof degrees", "Pearson's test"},
    {"next_touch", "The guide whose touch would help the worst one most.",
     "the touch that makes the least enter probability largest; covariances alone decide",
     "design of experiments, one step ahead"},
    {"play_mm", "How far the pilot can lean in the guide, seen at the seat.", "clearance·(1/2 + h/L)",
     "similar triangles"},
};

const std::vector<Reason> shape_reasons{
    {"contact_od_mm", "Where the valve's face begins to seat.", "head diameter - 2·inset",
     "geometry of the drawing"},
    {"contact_id_mm", "The inner edge of the sealing face.", "D_i = D_o - 2·w·cos α", "geometry of a cone"},
    {"gauge_mm", "The middle diameter, where depths are counted.", "(D_o + D_i)/2", "geometry of a cone"},
    {"cleanup_mm", "The least depth that removes all wear and pitting, with the margin asked for.",
     "max over the face of z_new - z_old, plus the margin", "definition"},
    {"depth_mm",
     "The depth planned: as little metal as will clean every seat and keep stem heights and chambers alike.",
     "minimise the sum of depths subject to cleanup ≤ d ≤ limit, stem heights within their spread, chambers "
     "within theirs",
     "linear program, solved exactly, then whole steps"},
    {"z_mm", "Where the spindle stops.",
     "touch: -depth; deck: along the guide axis less the depth; datum: map z - depth", "geometry"},
    {"bridge_mm", "The metal left between this seat's outermost circle and its nearest neighbour.",
     "least distance in space of two circles, or of a circle and a cylinder", "geometry"},
    {"removed_mm3", "The metal to be cut away.", "2π ∫ r·max(0, z_old - z_new) dr", "volume of revolution"},
    {"pressure_mpa", "How hard the head grips the insert.",
     "p = δ/(D·[(1/E_h)·((B²+D²)/(B²-D²)+ν_h) + (1/E_i)·((D²+d²)/(D²-d²)-ν_i)])",
     "Lamé's thick rings, as in machine-design handbooks"},
    {"width_per_depth", "How much the face narrows for each bit a neighbouring facet goes deeper.",
     "top: 1/((tan α - tan β)·cos α); throat: 1/((tan γ - tan α)·cos α)", "geometry of two cones"},
};

const std::vector<Reason> cut_reasons{
    {"rpm", "The fastest stable speed the material and machine allow, rounded down to the machine's step.",
     "n = 1000·v_c/(π·D_max)", "definition of surface speed"},
    {"torque_nm", "What the spindle must turn.",
     "F_c = Σ kc11·h^(1-mc)·b, h = (f/z)·cos α; torque = z·Σ F_c·r_mid", "Kienzle's cutting force"},
    {"thrust_n", "What the spindle must push.", "z·Σ ρ·F_c·cos α",
     "Kienzle's cutting force with a normal-force ratio"},
    {"dwell_turns", "Turns at depth until the springback has died away.",
     "x_n = x0·(K/(K+k))^n, x0 = thrust/k, K = thrust/feed", "a spring unloading by the chip it leaves"},
    {"stable_width_mm", "The widest total cut that stays free of chatter at this speed.",
     "b_lim = -1/(2·K_f·Re G(ω)); least 2·k·ζ·(1+ζ)/K_f",
     "regenerative chatter of one mode (Tobias, Tlusty)"},
    {"seconds", "Moves with limited acceleration, feed, dwell and changes.", "trapezoidal velocity",
     "kinematics"},
};

const std::vector<Reason> prove_reasons{
    {"tir_mm", "The full swing of the indicator.", "max - min", "definition"},
    {"eccentricity_mm", "The once-per-turn part of the trace: the seat off the guide's axis.",
     "amplitude of the first harmonic by least squares", "Fourier series"},
    {"roundness_mm", "What is left after taking the eccentricity out, about four reference circles.",
     "least squares; least zone; least outer; greatest inner", "ISO 12181-1; limaçon approximation"},
    {"verdicts",
     "Pass only if inside the limit by the uncertainty, fail only if outside by it, else undecided.",
     "value ± U against the limit", "ISO 14253-1"},
    {"cpk", "How many half widths of the process fit between its mean and the nearer limit.",
     "min(upper - mean, mean - lower)/(3·sigma)", "ISO 22514-2"},
    {"signals", "Heads where the chart says something changed.",
     "points beyond the limits and runs on one side", "Shewhart's charts with run rules"},
};

}  // namespace

Json why_json(Stage stage) {
    static const std::map<Stage, const std::vector<Reason>*> all{{Stage::hold, &hold_reasons},
                                                                 {Stage::find, &find_reasons},
                                                                 {Stage::shape, &shape_reasons},
                                                                 {Stage::cut, &cut_reasons},
                                                                 {Stage::prove, &prove_reasons}};
    Json reasons = Json::array();
    for (const auto& r : *all.at(stage))
        reasons.push_back({{"key", r.key}, {"says", r.says}, {"formula", r.formula}, {"source", r.stored}});
    return {{"stage", job::name_of(stage)}, {"reasons", std::move(reasons)}};
}

}  // namespace seatwright::server
