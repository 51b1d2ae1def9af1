// What a stage cannot do without. The reader is lenient about absence, since nobody has to know a cutting
// force to learn how a head must sit; each stage then asks for its own.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/job/stage.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::job {

// What this stage by itself still needs, as faults at the table that should say it (at the nearest table that
// is there, else at line 1). Whoever runs several stages asks for each. Empty: the stage can run.
Faults needs(const Job& job, Stage stage);
// The same for whoever is not at the file: the key and what is wrong with it.
std::vector<Sentence> needs_said(const Job& job, Stage stage);

// Names of materials that the shelf does not have, though it has others: faults of the job for whoever reads
// it, not only for the stage that cuts. (Machine, fixture and dialect are named to the reader, which faults
// them itself; reading.proof.gauge and .cutter are free texts.)
Faults not_on_shelf(const Job& job);

// Name of the material whose cutting this seat is: the seat's, else the head's; empty if neither says.
const std::string& cut_material(const Job& job, Kind kind);

}  // namespace seatwright::job
