#include "seatwright/cut/zero_in_force.hpp"

#include <algorithm>

namespace seatwright::cut {

namespace {

bool read_among(const job::Job& job, const std::string& head, const std::vector<shape::Seat>& seats,
                const std::vector<std::size_t>& planned) {
    return std::any_of(planned.begin(), planned.end(), [&](std::size_t s) {
        return first_reading(job, head, job.head.valves.at(seats.at(s).valve).id) != nullptr;
    });
}

}  // namespace

std::optional<std::size_t> zero_in_force(const Known& known, const SeatPlan& plan, const FormInSetup& whole,
                                         const FormInSetup& form, const job::Selection& selection,
                                         const Gate& gate) {
    const auto& seats = known.shape.seats;
    if (selection.only.empty() || known.job.depth.zero_on ||
        !read_among(known.job, known.shape.head, seats, form.planned))
        return std::nullopt;
    Gate unheard = gate;
    // What the part's own first file cuts first, before anything was read.
    job::Job unread = known.job;
    unread.readings.firsts.clear();
    const auto own =
        ready_form({unread, known.hold, known.find, known.shape}, plan, form, selection, unheard);
    FormInSetup all = whole;
    std::erase_if(all.planned, [&](std::size_t s) { return gate.holds(seats.at(s).valve); });
    if (!own || all.planned.empty()) return std::nullopt;
    const auto made = ready_form(known, plan, std::move(all), {}, unheard);
    if (!made || !made->first.measured || made->first.other || made->zero.on != shape::ZeroOn::old_seat)
        return std::nullopt;
    const std::size_t read = made->seats.front().valve;
    if (own->seats.front().valve == read || made->zero.valve == read) return std::nullopt;
    return made->zero.valve;
}

}  // namespace seatwright::cut
