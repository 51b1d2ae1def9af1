// The certificate: what was measured, by whom, against which limits, with which uncertainty and verdict. It
// claims nothing that was not measured; a seat without a reading stands there as not measured.
#pragma once

#include <string>
#include <vector>

#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

struct CertificateOptions {
    PaperSize paper = a4;
    LengthUnit unit = LengthUnit::mm;
    std::string record;     // bytes of the proof.json it goes with; its SHA-256 ties paper to record
    std::string entries{};  // BundleOptions::record, in the foot of each page; may be empty
    std::string order{};    // BundleOptions::order, under the title; may be empty
    const words::Catalogue* catalogue = &words::english();
    Speech speech() const { return {unit, catalogue}; }
};

// SVG pages. A proof of one head gives that head's certificate (limits, map, a line a seat, traces in small;
// one to two pages up to 32 seats, more beyond); of several heads the batch's, on two pages (a line a head,
// what may be claimed, control charts; where that would be more, heads that pass are only counted and the
// record holds the rest).
std::vector<std::string> certificate_pages(const job::Job& job, const prove::Proof& proof,
                                           const CertificateOptions& options);

}  // namespace seatwright::papers
