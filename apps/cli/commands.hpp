// What each command does once the words are parsed. Every one returns the exit status: 0 done, 2 the input is
// at fault, 3 done but the plan cannot be carried out as asked or a verdict is fail, 1 our own error.
#pragma once

#include <optional>
#include <string>

#include "seatwright/base/units.hpp"
#include "seatwright/drawing/drawing.hpp"
#include "seatwright/forecast/forecast.hpp"
#include "seatwright/job/selection.hpp"
#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/scan/scan.hpp"

namespace seatwright::cli {

enum ExitStatus { exit_done = 0, exit_ours = 1, exit_input = 2, exit_stopped = 3 };

struct Asked {
    std::string job;
    std::string head;      // empty = all, or the stage's own choice
    std::string out;       // folder for papers; of survey, scan and drawing the job file
    bool replace = false;  // the file at `out`, whoever made it
    std::string over;      // of survey, scan and drawing: a job whose head is laid over the one found
    bool json = false;
    std::optional<LengthUnit> unit;  // the job's own if absent
    papers::PaperSize paper = papers::a4;
    job::Selection selection;  // which seats programs are written for
    forecast::Asked batch;     // of forecast
    drawing::Told drawn;       // of drawing: what a person knows that it does not say
    scan::Told scanned;        // of scan, likewise
    std::string picture;       // of scan: the drawing of what was found, a file .svg or .pdf
};

int check(const Asked& asked);
int stage(const std::string& name, const Asked& asked);  // hold, find, shape, cut, prove
int plan(const Asked& asked);
int certify(const Asked& asked);
int forecast(const Asked& asked);
int survey(const Asked& asked);   // `job` is the file of readings
int drawing(const Asked& asked);  // `job` is the drawing
int scan(const Asked& asked);     // `job` is the measured surface
int casting(const Asked& asked);  // what the job has taught of its casting, to `out`
// All keys of a job file, as Markdown.
int reference();  // the page of all keys
int keys();       // keys and units as JSON

}  // namespace seatwright::cli
