#include "seatwright/cut/zeros.hpp"

#include <algorithm>

#include "seatwright/cut/first_seat.hpp"
#include "seatwright/cut/seat_record.hpp"
#include "seatwright/shape/before.hpp"
#include "seatwright/shape/deck_holes.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

// Heights nearer than the last digit of any program are one.
constexpr double same_height = 1e-4;

shape::ZeroDeck deck_of(const Known& known, const hold::Setup& setup, const Tool& tool) {
    const job::Job& job = known.job;
    shape::ZeroDeck deck;
    deck.at = job.depth.deck_at;
    deck.deck_cut = job.depth.deck_cut;
    deck.rotation = setup.rotation();
    deck.datum = job.head.valves.at(setup.datum).seat;
    deck.x_sign = job.machine.x_sign;
    deck.y_sign = job.machine.y_sign;
    deck.ball = job.machine.ball;
    deck.block = job.depth.block;
    deck.lowest = job.cutters.at(tool.cutter).lowest;
    deck.holes = shape::deck_holes(job);
    return deck;
}

}  // namespace

SeatHeights heights_of(const Known& known, const shape::Seat& seat) {
    SeatHeights out;
    // Of a plan to one height the height itself counts, not a difference to the touched seat.
    out.recession =
        known.job.depth.to == job::DepthTo::height ? seat.height.absolute() : seat.height.recession;
    if (!out.recession && !seat.height.relative)
        out.recession =
            shape::reading_of(known.job, known.shape.head, known.job.head.valves.at(seat.valve).id).recession;
    out.rest = seat.rest;
    std::optional<double> held_by = seat.rest;
    if (!seat.depth && !held_by)
        held_by = shape::rest_on_new_ring(known.job, known.job.head.valves.at(seat.valve).kind);
    out.held_by = std::max(0.0, held_by.value_or(0));
    out.stop = seat.stop_s;
    if (!out.stop && seat.depth) out.stop = -out.recession.value_or(0) - *seat.depth;
    if (seat.height.from != shape::HeightFrom::unread) out.u = seat.height.u;
    return out;
}

namespace {

// The seat that heights were made from as differences, where this form's file cuts it: a pilot stands in its
// guide, and readings of a cutter's rest were taken with Z0 there.
std::optional<std::size_t> touched_for_heights(const Known& known, const FormInSetup& form) {
    for (const std::size_t s : form.planned) {
        const auto touched = known.shape.seats[s].height.touched;
        if (touched == known.shape.seats[s].valve) return touched;
    }
    return std::nullopt;
}

SeatRecord record_in(const Known& known, const shape::Seat& shaped) {
    const SeatHeights heights = heights_of(known, shaped);
    SeatPlanned planned;
    planned.valve = shaped.valve;
    if (heights.recession) planned.old = -*heights.recession;
    planned.stop = heights.stop;
    planned.depth = shaped.depth.value_or(0);
    return record_of(known.job, known.shape.head, planned);
}

shape::ZeroTask task_of(const Known& known, const FormInSetup& form) {
    const job::Job& job = known.job;
    const hold::Setup& setup = known.hold.setups.at(form.setup);
    shape::ZeroTask task;
    task.head = known.shape.head;
    task.setup = setup.id;
    task.cutter = job.cutters.at(form.tool.cutter).name;
    task.number = form.tool.number;
    task.from = job.depth.from;
    task.to = job.depth.to;
    task.kept = job.machine.zero;
    if (job.depth.from == job::DepthFrom::datum)
        task.named = setup.datum;
    else if (job.depth.zero_on)
        task.named = job.head.index_of(*job.depth.zero_on);
    else if (form.touched)
        task.named = form.touched;
    else if (job.depth.from == job::DepthFrom::touch)
        task.named = touched_for_heights(known, form);
    task.feeler = job.depth.feeler;
    task.without_pilot = job.cut.pilot == job::PilotUse::none;
    std::vector<std::size_t> in_head_order = form.all;
    std::sort(in_head_order.begin(), in_head_order.end());
    for (const std::size_t s : in_head_order) {
        const shape::Seat& shaped = known.shape.seats[s];
        const hold::Held& held = *held_at(known.hold, shaped.valve).held;
        const job::Valve& valve = job.head.valves.at(shaped.valve);
        const SeatHeights heights = heights_of(known, shaped);
        shape::ZeroSeat seat;
        seat.valve = shaped.valve;
        seat.id = valve.id;
        seat.map = held.map;
        seat.readout = held.readout;
        seat.recession = heights.recession;
        seat.height_u = heights.u;
        seat.rest = heights.rest;
        seat.angle = job.seat[valve.kind] ? job.seat[valve.kind]->angle : seat.angle;
        seat.planned = std::find(form.planned.begin(), form.planned.end(), s) != form.planned.end();
        // A ring's flat is two corners: there is no old face to rest on.
        seat.has_old_seat = shaped.worn.size() != 2;
        task.seats.push_back(std::move(seat));
    }
    task.deck = deck_of(known, setup, form.tool);
    return task;
}

// What the readings after cutting say, seat by seat in cutting order; into the task's seats as well.
std::vector<SeatSaid> said_of(const Known& known, const FormInSetup& form, shape::ZeroTask& task) {
    std::vector<SeatSaid> out;
    for (const std::size_t s : form.all) {
        const shape::Seat& shaped = known.shape.seats[s];
        const SeatRecord record = record_in(known, shaped);
        // The first seat of these very files is read and not yet finished.
        const bool planned = std::find(form.planned.begin(), form.planned.end(), s) != form.planned.end();
        const bool cut = record.cut && !(record.first_only && planned);
        for (shape::ZeroSeat& seat : task.seats) {
            if (seat.valve != shaped.valve) continue;
            seat.already_cut = cut;
            seat.finished = record.finished;
            seat.finished_rank = record.rank;
        }
        SeatSaid said;
        said.valve = shaped.valve;
        said.id = known.job.head.valves.at(shaped.valve).id;
        said.cut = cut;
        said.good = cut && record.good;
        said.finished = record.finished;
        if (const auto recession = heights_of(known, shaped).recession) said.old = -*recession;
        out.push_back(std::move(said));
    }
    return out;
}

}  // namespace

namespace {

// A first seat was read with Z0 on a seat that is measured as cut by now, and others are not: what is left
// can neither go on with that Z0, which can no longer be checked there, nor with that trim on another.
std::optional<HeldBack> zero_seat_gone(const Known& known, const FormInSetup& form) {
    std::optional<std::string> read;
    for (const std::size_t s : form.planned) {
        const std::string& id = known.job.head.valves.at(known.shape.seats[s].valve).id;
        if (first_reading(known.job, known.shape.head, id) != nullptr) read = id;
    }
    if (!read) return std::nullopt;
    // As the first file took it, when none of its seats was cut.
    FormInSetup uncut = form;
    uncut.planned = form.all;
    const auto zero = shape::take_zero(task_of(known, uncut));
    if (!zero || zero->on != shape::ZeroOn::old_seat || !zero->valve) return std::nullopt;
    const auto left = [&](std::size_t s) { return !measured_after(known, s); };
    const auto is_zero = [&](std::size_t s) { return known.shape.seats[s].valve == *zero->valve; };
    const auto at = std::find_if(form.all.begin(), form.all.end(), is_zero);
    if (at == form.all.end() || left(*at) || std::none_of(form.all.begin(), form.all.end(), left))
        return std::nullopt;
    const std::string& id = known.job.head.valves.at(*zero->valve).id;
    return HeldBack{known.shape.head,
                    known.hold.setups[form.setup].id,
                    std::nullopt,
                    HeldCode::zero_void,
                    sentence<"zero-gone">("first"_is = *read, "seat"_is = id),
                    sentence<"zero-gone-frees">("seat"_is = id)};
}

}  // namespace

tl::expected<ZeroAsked, HeldBack> zero_asked(const Known& known, const FormInSetup& form,
                                             const job::Selection& selection) {
    ZeroAsked out{task_of(known, form), {}};
    const bool finished = known.job.depth.from == job::DepthFrom::finished;
    if (selection.whole() && !finished) {
        if (auto gone = zero_seat_gone(known, form)) return tl::unexpected(std::move(*gone));
        // Z0 is not taken on the old face of a seat that is measured and left out.
        for (shape::ZeroSeat& seat : out.task.seats)
            for (const std::size_t s : form.all)
                if (known.shape.seats[s].valve == seat.valve && !seat.planned)
                    seat.already_cut = measured_after(known, s);
        return out;
    }
    const std::vector<SeatSaid> said = said_of(known, form, out.task);
    std::optional<std::size_t> broke;
    for (std::size_t i = 0; i < said.size(); ++i)
        if (selection.from == said[i].id) broke = i;
    if (selection.whole()) return out;
    // Z0 on the deck is another cutter's as well, or taken anew without regard to what is cut.
    const bool deck = known.job.depth.from == job::DepthFrom::deck;
    if (deck && !broke) return out;
    const Restart restart = restart_of(said, broke);
    const bool any_cut = std::any_of(said.begin(), said.end(), [](const SeatSaid& seat) { return seat.cut; });
    if (!broke && !any_cut) return out;
    // The blade of another cutter broke: this one keeps what it had.
    if (selection.from && !broke) return out;
    out.restart = restart.words();
    // The new blade's length is measured like the old one's was, where no finished seat gives it better.
    if (deck && known.job.machine.zero == job::ZeroKept::offsets && !restart.finished_on) return out;
    auto task = restarted(std::move(out.task), restart);
    if (!task) return tl::unexpected(task.error());
    out.task = std::move(*task);
    return out;
}

bool measured_after(const Known& known, std::size_t seat) {
    const SeatRecord record = record_in(known, known.shape.seats[seat]);
    return record.cut && !record.first_only;
}

bool done_already(const Known& known, std::size_t seat, const job::Selection& selection) {
    if (selection.whole() && known.job.depth.from != job::DepthFrom::finished) return false;
    const shape::Seat& shaped = known.shape.seats[seat];
    const auto stop = heights_of(known, shaped).stop;
    const auto finished = record_in(known, shaped).finished;
    return stop && finished && *finished <= *stop + same_height;
}

}  // namespace seatwright::cut
