#include "seatwright/shape/depth_doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/ranges.hpp"

namespace seatwright::shape {

namespace {

// The cleanup or the depth itself was typed: asked about, or confirmed, where it stands.
bool asked_at_its_source(const job::Job& job, const std::string& head, const std::string& valve) {
    const auto& orders = job.depth.seats;
    if (std::any_of(orders.begin(), orders.end(), [&](const auto& o) { return o.valve == valve; }))
        return true;
    const auto& reads = job.readings.seats;
    return std::any_of(reads.begin(), reads.end(), [&](const job::SeatBefore& r) {
        return r.head == head && r.valve == valve && r.cleanup && *r.cleanup > most_depth;
    });
}

}  // namespace

std::vector<job::Doubt> recession_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    for (const Seat& seat : shape.seats) {
        const auto recession = seat.height.absolute();
        // One typed as such is asked about where it stands.
        if (!recession || std::abs(*recession) <= most_recession || seat.height.from == HeightFrom::recession)
            continue;
        const std::string& id = job.head.valves[seat.valve].id;
        const std::string key = fmt::format("recession.{}", id);
        const auto sure = [&](const job::SeatBefore& r) {
            return r.head == shape.head && r.valve == id && r.sure;
        };
        const auto& reads = job.readings.seats;
        if (std::any_of(reads.begin(), reads.end(), sure) ||
            job::is_sure(job, key, *recession, job::Dimension::length))
            continue;
        const auto words = [&](double mm) {
            return job::figure_words(mm, job::Dimension::length, job.units);
        };
        out.push_back(
            {job::Stage::shape, job::Cost::reading, key, words(*recession),
             fmt::format("The readings put the old seat of {} {} below its drawing height; more than {} "
                         "is asked about.",
                         id, words(*recession), words(most_recession)),
             id, shape.head, false});
    }
    return out;
}

std::vector<job::Doubt> depth_doubts(const job::Job& job, const Shape& shape) {
    std::vector<job::Doubt> out;
    for (const Seat& seat : shape.seats) {
        if (seat.decision != Decision::cut || !seat.depth || *seat.depth <= most_depth) continue;
        const std::string& id = job.head.valves[seat.valve].id;
        if (asked_at_its_source(job, shape.head, id)) continue;
        const std::string key = fmt::format("depth.{}", id);
        if (job::is_sure(job, key, *seat.depth, job::Dimension::length)) continue;
        const auto words = [&](double mm) {
            return job::figure_words(mm, job::Dimension::length, job.units);
        };
        out.push_back(
            {job::Stage::shape, job::Cost::reading, key, words(*seat.depth),
             fmt::format("The seat of {} would be cut {} deep; more than {} at once is asked about.", id,
                         words(*seat.depth), words(most_depth)),
             id, shape.head, false});
    }
    return out;
}

void ask_about_seats(const job::Job& job, Shape& shape, std::size_t open) {
    auto doubts = job::doubts_of(job, job::Stage::shape, shape.head);
    for (auto& doubt : depth_doubts(job, shape)) doubts.push_back(std::move(doubt));
    for (auto& doubt : recession_doubts(job, shape)) doubts.push_back(std::move(doubt));
    job::ask_about(shape, std::move(doubts), open);
}

}  // namespace seatwright::shape
