// The papers of a job over the network: which there are now, each by its name, and the pages of the sheet and
// of the certificate one by one as SVG, to be looked at before they are printed.
#pragma once

#include "seatwright/papers/page/pdf.hpp"
#include "server/jobs/computation.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

struct PaperQuery {
    LengthUnit unit = LengthUnit::mm;
    papers::PaperSize size = papers::a4;
    std::string order{};       // whose it is, a line on sheet and certificate; may be empty
    std::string record{};      // of the job's readings, for the sheet: record_of(stored); may be empty
    std::string form() const;  // "in 215.9x279.4"
    std::string key() const;   // the same key prints the same
};

// The paper named in a request: "a4" (or nothing) or "letter"; HttpError 400 for another word.
papers::PaperSize paper_size_named(const std::string& name);

// "entries 12 1f0c2b…": how many entries there are, and the first letters of the last one's digest; and that
// limits wait for a lead, if they do.
std::string record_of(const StoredJob& stored, bool limits_open);

// The list of papers that can be made now, as GET /api/jobs/{id}/papers answers it.
Json papers_json(Computation& computation, const PaperQuery& query);

// The bytes of "sheet.pdf", "certificate.pdf", "certificate-1.svg" (the first page of certificate.pdf), …;
// drawn once and kept with the computation. Throws HttpError: 404 no such paper, 422 not to be made as things
// stand.
std::string paper_bytes(Computation& computation, const std::string& name, const PaperQuery& query);

// Whether that is a picture for the screen (one page, a form as SVG): such do not leave.
bool is_picture(const std::string& name);
// Whether its words hang on the units and the size of the page; the others are the same bytes whatever they
// are.
bool hangs_on_form(const std::string& name);
// Whether it is of all heads unless one is named.
bool is_of_proof(const std::string& name);

// Whether that paper is a program of the plan, whatever the shop's names are.
bool is_program(Computation& computation, const std::string& name);

// A file that leaves has the job's number in front, so that two jobs with a head 7 are told apart; where the
// dialect wants 8.3 names there is no room for it, and the program goes into a folder of that number.
std::string name_taken_along(const Computation& computation, long long job, const std::string& file);

std::string media_of_paper(const std::string& name);

}  // namespace seatwright::server
