#include "seatwright/papers/bundle.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "seatwright/papers/brief.hpp"
#include "seatwright/papers/certificate.hpp"
#include "seatwright/papers/draw_section.hpp"
#include "seatwright/papers/dxf.hpp"
#include "seatwright/papers/map_csv.hpp"
#include "seatwright/papers/report.hpp"
#include "seatwright/papers/results_csv.hpp"
#include "seatwright/papers/sheet.hpp"

namespace seatwright::papers {

namespace {

using nlohmann::ordered_json;

// Bytes that are not UTF-8 can come in by a name: replaced, never thrown over.
std::string printed(const ordered_json& json) {
    return json.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

std::string brief_text(const job::Job& job, const std::vector<StageLine>& lines, const Notices& notices,
                       const TableStyle& style) {
    std::string out = heading_text(job.title.empty() ? job.head.name : job.title, style);
    const std::string warnings = warnings_text(notices, style);
    if (!warnings.empty()) out += warnings + "\n";
    for (const auto& line : lines)
        out += fmt::format("{:<6} {:<10} {}\n", line.stage, name_of(line.state), line.answer);
    out += "\nNext:\n";
    for (const auto& line : lines)
        if (!line.next.empty()) out += fmt::format("{:<6} {}\n", line.stage, line.next);
    return out;
}

constexpr double form_margin = 15;  // mm round the form on its page

// Seats of that kind are to be cut and nothing on the shelf cuts them.
bool wants_cutter(const job::Job& job, const shape::Shape& shape, job::Kind kind) {
    return std::any_of(shape.seats.begin(), shape.seats.end(), [&](const shape::Seat& seat) {
        return job.head.valves[seat.valve].kind == kind && seat.decision != shape::Decision::not_allowed &&
               !seat.section.points.empty() && !seat.cutter;
    });
}

// What to send to whoever makes the blade: a picture, a page, and the edge at true size.
tl::expected<std::vector<Paper>, std::string> form_papers(const job::Job& job, job::Kind kind,
                                                          const BundleOptions& options) {
    SectionStyle style;
    style.unit = options.unit;
    const auto drawing = draw_form_to_order(job, kind, style);
    const auto edge = dxf_form_to_order(job, kind);
    if (!drawing || !edge) return std::vector<Paper>{};
    const std::string word = kind == job::Kind::intake ? "intake" : "exhaust";
    const std::string title = job.title + ": form to order, " + word + " seats";
    Drawing page(options.paper.width_mm, options.paper.height_mm, title,
                 "The edge of the cutter that the shelf lacks, dimensioned.");
    page.place(*drawing, {form_margin, form_margin},
               (options.paper.width_mm - 2 * form_margin) / drawing->width());
    auto pdf = pdf_of({page.document()}, options.paper, title);
    if (!pdf) return tl::unexpected(pdf.error());
    const std::string name = "form-" + word;
    return std::vector<Paper>{
        {name + ".svg", drawing->document()}, {name + ".pdf", std::move(*pdf)}, {name + ".dxf", *edge}};
}

}  // namespace

tl::expected<Bundle, std::string> plan_bundle(const job::Job& job, const plan::Plan& plan,
                                              const BundleOptions& options) {
    const auto notices = plan.notices();
    Bundle bundle;
    bundle.stopped = plan::blocked(notices);
    auto json = json_frame(job, notices);
    json["hold"] = json_of(job, plan.hold);
    json["find"] = json_of(job, plan.find);
    json["shape"] = json_of(job, plan.shape);
    json["cut"] = json_of(job, plan.cut);
    bundle.json = printed(json);
    bundle.text = brief_text(job, brief(job, plan, prove::judge(job), options.unit, plan.shape.head), notices,
                             options.table);
    if (options.extent == Extent::words) return bundle;

    bundle.files.push_back({"plan.json", bundle.json});
    for (const auto& setup : plan.hold.setups)
        bundle.files.push_back({"map-" + setup.id + ".csv", map_csv(job, setup, plan.cut)});
    for (const auto& program : plan.cut.programs) bundle.files.push_back({program.file, program.text});
    const auto sheet = pdf_of(setup_sheet(job, plan, {options.paper, options.unit}), options.paper,
                              job.title + ": setup sheet");
    if (!sheet) return tl::unexpected(sheet.error());
    bundle.files.push_back({"sheet.pdf", *sheet});
    for (const auto kind : job::both_kinds) {
        if (!wants_cutter(job, plan.shape, kind)) continue;
        auto form = form_papers(job, kind, options);
        if (!form) return tl::unexpected(form.error());
        std::move(form->begin(), form->end(), std::back_inserter(bundle.files));
    }
    return bundle;
}

tl::expected<Bundle, std::string> proof_bundle(const job::Job& job, const prove::Proof& proof,
                                               const BundleOptions& options) {
    Bundle bundle;
    bundle.stopped = proof.verdict == prove::Verdict::fail || plan::blocked(proof);
    auto json = json_frame(job, proof);
    json.update(json_of(job, proof));
    bundle.json = printed(json);
    const TextStyle style{options.table, options.unit};
    bundle.text = warnings_text(proof, options.table) + text_of(job, proof, style);
    if (options.extent == Extent::words) return bundle;

    const auto certificate = pdf_of(certificate_pages(job, proof, {options.paper, options.unit, bundle.json}),
                                    options.paper, "Certificate of measurement: " + job.title);
    if (!certificate) return tl::unexpected(certificate.error());
    bundle.files.push_back({"proof.json", bundle.json});
    bundle.files.push_back({"certificate.pdf", *certificate});
    bundle.files.push_back({"results.csv", results_csv(job, proof)});
    return bundle;
}

}  // namespace seatwright::papers
