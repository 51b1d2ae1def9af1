#include "server/http/counters.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::server {

void Counters::note(const AnswerNote& answered) {
    const bool looked = answered.method == "GET" || answered.method == "HEAD";
    const int of_hundred = std::clamp(answered.status / 100, 1, 5) - 1;
    ++answers_[looked ? 0 : 1][static_cast<std::size_t>(of_hundred)];
    const double seconds = answered.seconds.count();
    const auto at = std::lower_bound(bounds.begin(), bounds.end(), seconds) - bounds.begin();
    ++within_[static_cast<std::size_t>(at)];
    microseconds_ += static_cast<long long>(1e6 * seconds);
}

std::string Counters::text() const {
    std::string out =
        "# HELP seatwright_requests_total Answers given, by what was asked for and by status.\n"
        "# TYPE seatwright_requests_total counter\n";
    for (std::size_t kind = 0; kind < answers_.size(); ++kind)
        for (std::size_t status = 0; status < answers_[kind].size(); ++status)
            out += fmt::format("seatwright_requests_total{{kind=\"{}\",status=\"{}xx\"}} {}\n",
                               kind == 0 ? "look" : "change", status + 1, answers_[kind][status].load());
    out +=
        "# HELP seatwright_request_seconds Time from a whole request to its whole answer.\n"
        "# TYPE seatwright_request_seconds histogram\n";
    long long sum = 0;
    for (std::size_t i = 0; i < within_.size(); ++i) {
        sum += within_[i].load();
        const std::string bound = i < bounds.size() ? fmt::format("{}", bounds[i]) : "+Inf";
        out += fmt::format("seatwright_request_seconds_bucket{{le=\"{}\"}} {}\n", bound, sum);
    }
    out += fmt::format("seatwright_request_seconds_sum {}\nseatwright_request_seconds_count {}\n",
                       1e-6 * static_cast<double>(microseconds_.load()), sum);
    return out;
}

}  // namespace seatwright::server
