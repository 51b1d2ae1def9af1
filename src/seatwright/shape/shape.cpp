#include "seatwright/shape/shape.hpp"

#include "seatwright/shape/asked.hpp"
#include "seatwright/shape/depth_doubts.hpp"
#include "seatwright/shape/designer.hpp"

namespace seatwright::shape {

Shape design(const job::Job& job, const hold::Hold& hold, const find::Find& find, const std::string& head) {
    Shape out = Designer(job, hold, find, head).run();
    ask_about_seats(job, out, job::asked_in(hold) + job::asked_in(find));
    return out;
}

Shape with_depths(const job::Job& job, const hold::Hold& hold, const find::Find& find,
                  const std::string& head, const std::map<std::string, double>& depths) {
    return Designer(job, hold, find, head).run(depths);
}

}  // namespace seatwright::shape
