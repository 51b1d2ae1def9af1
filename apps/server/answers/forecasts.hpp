// Forecasts of the jobs' batches as their page asks for them: the batch of each job made ready once for a
// state of it, its tables kept from question to question, so that a pass rate follows the hand.
// Thread-safe; questions about one job are answered one after another.
#pragma once

#include <memory>
#include <mutex>

#include "seatwright/forecast/chance_table.hpp"
#include "seatwright/forecast/prepared.hpp"
#include "seatwright/papers/page/pdf.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// Widths the page's drawings have room for, mm of paper.
struct ForecastRoom {
    double spread = 90, lower = 90, causes = 90, changes = 90, by_head = 180;  // lower: widths and heights
};

struct ForecastQuestion {
    LengthUnit unit = LengthUnit::mm;
    bool whole =
        false;   // with verdicts, risks, limits of the pass rate and what helps most; else what a drag shows
    Json tried;  // an object as the page sends it; null: nothing is tried
    std::optional<ForecastRoom> room{};  // none: no drawings
};

class Forecasts {
  public:
    explicit Forecasts(Workbench& bench) : bench_(bench) {}

    // The answer of POST …/forecast in docs/api/openapi.json. `check` is called between two pieces of work;
    // what it throws ends the question. Throws HttpError: 404 no such job, 422 what is missing before a batch
    // can be forecast, 400 a figure tried that cannot be.
    std::string answer(long long job, const ForecastQuestion& question, const std::function<void()>& check);

    // forecast.pdf of the job as it stands. Throws HttpError as above.
    std::string paper(long long job, std::optional<LengthUnit> unit, const papers::PaperSize& size,
                      const std::function<void()>& check);

  private:
    // A job's batch as it was last asked for.
    struct LastBatch {
        std::mutex mutex;  // held while a question is answered
        forecast::Tables tables;
        std::shared_ptr<const StoredJob> stored;
        std::shared_ptr<Computation> computation;
        std::optional<plan::Plan> plan;
        forecast::Prepared prepared;
        std::optional<forecast::Forecast> whole;  // of the job as it stands
    };
    std::shared_ptr<LastBatch> batch_of(long long job);
    // Made ready for the job as it stands now; the batch's lock is held.
    void bring_up(LastBatch& batch, long long job, const std::function<void()>& check);
    const forecast::Forecast& whole(LastBatch& batch, const std::function<void()>& check);

    Workbench& bench_;
    Cache<long long, LastBatch> batches_{4};  // some ten megabytes each
};

}  // namespace seatwright::server
