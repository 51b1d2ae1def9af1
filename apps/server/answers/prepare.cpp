#include "server/answers/prepare.hpp"

#include <fmt/format.h>

#include <functional>

#include "server/answers/job_card.hpp"
#include "server/answers/job_state.hpp"

namespace seatwright::server {

namespace {

struct PreparedStep {
    std::string sentence;
    std::function<void()> work;
};

}  // namespace

store::Answer<long long> prepare(Workbench& bench, long long job, const Wanted& wanted, TaskReport& report) {
    std::shared_ptr<const StoredJob> stored;
    std::shared_ptr<Computation> computation;
    std::vector<PreparedStep> steps{{"reading the job", [&] {
                                         stored = bench.cache.stored(job);
                                         computation = bench.cache.computation(stored, wanted.head);
                                     }}};
    for (const auto stage :
         {job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut, job::Stage::prove})
        steps.push_back({fmt::format("computing {}", job::name_of(stage)),
                         [&, stage] { static_cast<void>(computation->needs(stage)); }});
    steps.push_back({"putting the page together", [&] {
                         state_text(bench, job, {wanted.head, wanted.unit});
                     }});
    for (const auto& name : wanted.papers)
        steps.push_back({"drawing " + name, [&, name] {
                             const LengthUnit unit = wanted.unit.value_or(stored->units);
                             paper_bytes(
                                 *computation, name,
                                 {unit, wanted.size, order_words(bench.orders.of(job), *stored, wanted.head),
                                  record_of(*stored, bench.open_limits.of(job).has_value())});
                         }});
    for (std::size_t i = 0; i < steps.size(); ++i) {
        if (!report.progress(i, steps.size(), steps[i].sentence))
            return store::refuse(store::Why::bad, "cancelled");
        try {
            steps[i].work();
        } catch (const HttpError& stopped) {
            return store::refuse(store::Why::bad, stopped.body.value("error", std::string()));
        }
    }
    return job;
}

}  // namespace seatwright::server
