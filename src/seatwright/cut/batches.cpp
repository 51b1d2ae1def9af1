#include "seatwright/cut/batches.hpp"

#include <algorithm>

#include "seatwright/cut/planting.hpp"

namespace seatwright::cut {

namespace {

// 0, 1, … in the order of the ranks.
std::vector<int> rank_places(const std::vector<int>& rank) {
    std::vector<int> ranks = rank;
    std::sort(ranks.begin(), ranks.end());
    ranks.erase(std::unique(ranks.begin(), ranks.end()), ranks.end());
    std::vector<int> places;
    places.reserve(rank.size());
    for (const int r : rank)
        places.push_back(static_cast<int>(std::lower_bound(ranks.begin(), ranks.end(), r) - ranks.begin()));
    return places;
}

std::vector<int> in_file_order(const ReadyForm& form, const std::vector<int>& turns) {
    const int last = static_cast<int>(turns.size());  // after every other
    const shape::Zero& zero = form.zero;
    std::vector<int> rank(turns.size());
    for (std::size_t i = 0; i < turns.size(); ++i) rank[i] = turns[i] == turns.front() ? -1 : turns[i];
    const bool touched = zero.on == shape::ZeroOn::old_seat && zero.valve == form.seats.back().valve;
    const bool several = std::any_of(turns.begin(), turns.end(), [&](int t) { return t != turns[0]; });
    if (touched && several && form.seats.size() > 1) {
        const int its = turns.back();
        if (its == turns.front())
            rank.back() = last;  // a planting of its own
        else
            for (std::size_t i = 0; i < turns.size(); ++i)
                if (turns[i] == its) rank[i] = last;
    }
    return rank_places(rank);
}

// A draft may have seats without a pilot among them.
bool planted(const ReadyForm& form) {
    return std::all_of(form.seats.begin(), form.seats.end(),
                       [](const ReadySeat& seat) { return seat.use == job::PilotUse::planted; });
}

std::vector<int> plantings(const job::Job& job, const hold::Hold& hold,
                           const std::vector<const ReadyForm*>& forms) {
    std::vector<Planted> all;
    double body = 0, lowest = 0;
    for (const ReadyForm* form : forms) {
        const job::Cutter& cutter = job.cutters.at(form->form.tool.cutter);
        body = std::max(body, cutter.body.value_or(0));
        lowest = std::max(lowest, cutter.lowest.value_or(0));
        for (const ReadySeat& seat : form->seats) {
            const job::Pilot& pilot = job.pilots.at(*seat.pilot);
            all.push_back({held_at(hold, seat.valve).held->map.head<2>(), seat.map_z + seat.stop,
                           seat.stand->top_most.value_or(0), pilot.diameter, *seat.pilot, pilot.count});
        }
    }
    return planting_turns(all, body, lowest);
}

std::vector<int> turns_of(const job::Job& job, const hold::Hold& hold, const ReadyForm& form) {
    if (planted(form)) return in_file_order(form, plantings(job, hold, {&form}));
    std::vector<int> turns(form.seats.size(), 0);
    for (std::size_t i = 1; i < form.seats.size(); ++i)
        turns[i] = turns[i - 1] + (form.seats[i].use == form.seats[i - 1].use ? 0 : 1);
    return turns;
}

class Batcher {
  public:
    Batcher(const job::Job& job, const hold::Hold& hold) : job_(job), hold_(hold) {}

    // A cutter's forms follow each other, each with its own turns.
    std::vector<Batch> cutter_by_cutter(const std::vector<const ReadyForm*>& forms) {
        int before = 0;
        for (std::size_t f = 0; f < forms.size(); ++f) {
            if (f > 0 && forms[f]->form.tool.number != forms[f - 1]->form.tool.number) before = 0;
            const std::vector<int> turns = turns_of(job_, hold_, *forms[f]);
            const int last = *std::max_element(turns.begin(), turns.end());
            for (int turn = 0; turn <= last; ++turn)
                put(*forms[f], turns, turn, batches_.size(), before + turn);
            before += last + 1;
        }
        return std::move(batches_);
    }

    // All cutters of the setup in one file, as far as their pilots let them.
    std::vector<Batch> together(const std::vector<const ReadyForm*>& forms) {
        const bool plants =
            std::all_of(forms.begin(), forms.end(), [](const ReadyForm* form) { return planted(*form); });
        if (plants) {
            const std::vector<int> at_once = plantings(job_, hold_, forms);
            if (*std::max_element(at_once.begin(), at_once.end()) > 0) {
                cutter_by_cutter(forms);
                return numbered(std::move(batches_));
            }
        }
        int before = 0, last = -1;
        for (std::size_t f = 0; f < forms.size(); ++f) {
            const bool same = f > 0 && forms[f]->form.tool.number == forms[f - 1]->form.tool.number;
            before = same ? last + 1 : 0;
            const std::vector<int> turns =
                plants ? std::vector<int>(forms[f]->seats.size(), 0) : turns_of(job_, hold_, *forms[f]);
            last = before + *std::max_element(turns.begin(), turns.end());
            for (int turn = before; turn <= last; ++turn)
                put(*forms[f], turns, turn - before, static_cast<std::size_t>(turn), turn);
        }
        return numbered(of_one_use(std::move(batches_)));
    }

  private:
    // A pilot that turns with the tool and one that does not are no matter of one file.
    static std::vector<Batch> of_one_use(const std::vector<Batch>& batches) {
        std::vector<Batch> out;
        for (const Batch& batch : batches) {
            const std::size_t begin = out.size();
            for (const Portion& portion : batch.portions) {
                const auto same = std::find_if(
                    out.begin() + static_cast<std::ptrdiff_t>(begin), out.end(), [&](const Batch& b) {
                        return b.portions.front().seats.front()->use == portion.seats.front()->use;
                    });
                Batch& its = same == out.end() ? out.emplace_back() : *same;
                its.portions.push_back(portion);
            }
        }
        return out;
    }
    static std::vector<Batch> numbered(std::vector<Batch> batches) {
        for (std::size_t b = 0; b < batches.size(); ++b) batches[b].turn = static_cast<int>(b);
        return batches;
    }

    void put(const ReadyForm& form, const std::vector<int>& turns, int turn, std::size_t batch, int number) {
        Portion portion{&form, {}};
        for (std::size_t i = 0; i < form.seats.size(); ++i)
            if (turns[i] == turn) portion.seats.push_back(&form.seats[i]);
        if (portion.seats.empty()) return;
        if (batches_.size() <= batch) batches_.resize(batch + 1);
        batches_[batch].portions.push_back(std::move(portion));
        batches_[batch].turn = number;
    }

    const job::Job& job_;
    const hold::Hold& hold_;
    std::vector<Batch> batches_;
};

}  // namespace

std::vector<Batch> batches_of(const job::Job& job, const hold::Hold& hold,
                              const std::vector<const ReadyForm*>& forms) {
    Batcher batcher(job, hold);
    return job.machine.zero == job::ZeroKept::offsets ? batcher.together(forms)
                                                      : batcher.cutter_by_cutter(forms);
}

}  // namespace seatwright::cut
