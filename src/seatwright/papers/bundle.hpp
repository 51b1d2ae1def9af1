// All papers of a plan or of a proof at once: what the commands write and the workbench offers to download.
//
// BundleOptions::unit changes the text, sheet.pdf, the certificate and the drawn forms, sentences too, and
// its catalogue their sentences; JSON, tables of values and programs are the same bytes whatever they say.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/plan/failure.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/report/table.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

enum class Extent {
    words,  // text and JSON only
    papers  // and every file
};

struct BundleOptions {
    PaperSize paper = a4;
    LengthUnit unit = LengthUnit::mm;
    report::TableStyle table;
    Extent extent = Extent::papers;
    bool text = true;     // false: Bundle::text stays empty
    std::string order{};  // whose it is, a line on sheet and certificate; may be empty
    std::string record{};  // what it was made from, in the foot of sheet and certificate: "entries 12 1f0c…";
                           // may be empty
    const words::Catalogue* catalogue = &words::english();
    Speech speech() const { return {unit, catalogue}; }
};

struct Paper {
    enum class Role { paper, program };
    std::string name;  // "sheet.pdf"
    std::string bytes;
    Role role = Role::paper;
};

struct Bundle {
    std::vector<Paper> files;
    std::string text;      // in brief, for a terminal
    std::string json;      // plan.json or proof.json, newline at the end
    std::string digest;    // of what it was made from
    bool stopped = false;  // a blocking warning stands or a verdict is fail
};

// plan.json, map-<setup>.csv, program-<head>-<setup>-<n>….ngc, sheet.pdf; and form-<kind>.svg, .pdf, .dxf for
// a kind of seat to be cut that no cutter on the shelf makes. Error: a sentence (a page could not be drawn).
// `proof`: every one on record, for the text, which also says what failures left it empty.
tl::expected<Bundle, std::string> plan_bundle(const job::Job& job, const plan::Plan& plan,
                                              const prove::Proof& proof, const BundleOptions& options,
                                              const std::vector<plan::Failure>& failures = {});

// proof.json, certificate.pdf and the measurement results for others to read.
tl::expected<Bundle, std::string> proof_bundle(const job::Job& job, const prove::Proof& proof,
                                               const BundleOptions& options);

// The names of those papers, in the order of the bundle, without drawing any.
std::vector<std::string> plan_papers(const job::Job& job, const plan::Plan& plan);
std::vector<std::string> proof_papers();

// One of them by name, drawn alone; the same bytes as in the bundle. Error: a sentence.
tl::expected<std::string, std::string> plan_paper(const job::Job& job, const plan::Plan& plan,
                                                  const BundleOptions& options, const std::string& name);
tl::expected<std::string, std::string> proof_paper(const job::Job& job, const prove::Proof& proof,
                                                   const BundleOptions& options, const std::string& name);

// SVG documents of the pages of sheet.pdf and of certificate.pdf, to be looked at before they are printed.
std::vector<std::string> sheet_pages(const job::Job& job, const plan::Plan& plan,
                                     const BundleOptions& options);
std::vector<std::string> proof_pages(const job::Job& job, const prove::Proof& proof,
                                     const BundleOptions& options);

}  // namespace seatwright::papers
