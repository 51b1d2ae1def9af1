// Each stage's own keys as text, for who sends them: to the last letter what dump() gives of report.hpp's
// json_of.
#pragma once

#include "seatwright/report/json_text.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::report {

JsonMembers members_of(const job::Job& job, const hold::Hold& hold, const Speech& speech);
JsonMembers members_of(const job::Job& job, const find::Find& find, const Speech& speech, Extent extent);
JsonMembers members_of(const job::Job& job, const shape::Shape& shape, const Speech& speech);
JsonMembers members_of(const job::Job& job, const cut::Cut& cut, const Speech& speech, Extent extent);
JsonMembers members_of(const job::Job& job, const prove::Proof& proof, const Speech& speech, Extent extent);

JsonText text_of(const job::Job& job, const std::vector<plan::WalkStep>& walk, const Speech& speech);

// The frame's keys; `warnings`: a list, as text.
JsonMembers frame_members(const std::string& title, JsonText warnings,
                          const std::vector<Sentence>& assumptions, const Speech& speech);

}  // namespace seatwright::report
