// Any part of the readings of a head, spoiled or not: a head whose figures are finite and whose job reads
// without faults, or faults with words; what is reported lies where the head's truth is.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/reader.hpp"
#include "seatwright/survey/job_text.hpp"
#include "spoken.hpp"
#include "survey/simulated.hpp"
#include "survey/surveyed.hpp"

namespace seatwright::survey {
namespace {

std::string part_of(const std::string& text, std::size_t in_ten, simulated::Normal& normal) {
    std::string out;
    bool first = true;
    for (std::size_t at = 0; at < text.size();) {
        const auto next = std::min(text.find("\n[[", at), text.size() - 1) + 1;
        if (first || normal.below(10) < in_ten) out += text.substr(at, next - at);
        first = false;
        at = next;
    }
    return out;
}

TEST(AnyPart, IsAHeadOrFaultsAndNeverWrong) {
    const simulated::Sds sds;
    std::size_t reported = 0, far = 0;
    for (std::size_t i = 0; i < 180; ++i) {
        simulated::Normal normal(7000 + i);
        const auto& layout = simulated::layouts()[i % simulated::layouts().size()];
        const auto head = simulated::head_of(layout, sds, normal);
        simulated::Machine machine(head, sds, normal);
        const auto text = part_of(machine.read({}).text, 2 + i % 8, normal);
        const auto readings = read_readings(text, "readings.toml");
        if (!readings) {
            EXPECT_EQ(text.find("[[point]]"), std::string::npos) << words_of(readings.error());
            continue;
        }
        const auto found = survey(*readings);
        ASSERT_TRUE(found) << words_of(found.error()) << text;
        const auto truth = simulated::in_survey_frame(head, [&](const std::string& id, std::size_t axis) {
            for (const auto& v : found->valves)
                if (v.id == id) return axis == 0 ? v.x.value.has_value() : v.y.value.has_value();
            return false;
        });
        // Without a row of holes the frame's X is another than the truth's.
        const bool same_x =
            std::none_of(found->assumptions.begin(), found->assumptions.end(),
                         [](const Sentence& a) { return spoken(a).find("head's X") != std::string::npos; });
        for (const auto& v : found->valves) {
            for (const auto* f : {&v.x, &v.y, &v.z, &v.incline, &v.cant})
                EXPECT_TRUE(std::isfinite(f->u) && f->u >= 0);
            for (const auto& g : truth.guides) {
                if (g.id != v.id || !v.whole() || !same_x) continue;
                ++reported;
                // Six standard uncertainties: a figure that is left open and reported would lie anywhere.
                if (std::abs(*v.y.value - g.at[1]) > 6 * v.y.u + 1e-6 ||
                    std::abs(*v.z.value - g.at[2]) > 6 * v.z.u ||
                    std::abs(deg(*v.incline.value) - g.incline) > 6 * deg(v.incline.u))
                    ++far;
            }
        }
        for (const auto& m : found->missing) EXPECT_FALSE(m.next.empty() || m.why.empty());
        if (const auto job = job_text(*found)) {
            const auto read = job::read_job(*job, "job.toml", {});
            EXPECT_TRUE(read) << words_of(read.error());
        }
    }
    EXPECT_GT(reported, 300u);
    EXPECT_LE(far, reported / 100) << "of " << reported;
}

}  // namespace
}  // namespace seatwright::survey
