#include "server/http_server.hpp"

#include <fmt/format.h>
#include <malloc.h>
#include <spdlog/spdlog.h>

#include <csignal>

#include "seatwright/store/castings.hpp"
#include "seatwright/store/fault_words.hpp"
#include "server/answers/castings.hpp"
#include "server/answers/job_state.hpp"
#include "server/http/log_lines.hpp"
#include "server/http/pages.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

// Results and texts of some hundred kilobytes come and go with every entry: their memory is kept for the next
// ones, since giving it back to the kernel and fetching it again costs more than making some of them.
void keep_freed_memory() {
    constexpr int kept = 256 << 20, in_one_piece = 32 << 20, at_a_time = 16 << 20;  // bytes
    mallopt(M_TRIM_THRESHOLD, kept);
    mallopt(M_MMAP_THRESHOLD, in_one_piece);
    mallopt(M_TOP_PAD, at_a_time);
}

}  // namespace

HttpServer::HttpServer(Workbench& bench, const HttpOptions& options)
    : bench_(bench), router_(bench.access), log_requests_(options.log_requests), others_(bench) {
    keep_freed_memory();
    // A listener that goes away must not end the program.
    std::signal(SIGPIPE, SIG_IGN);
    add_all_routes(router_, bench_);
    bench_.recompute.start([this](long long job) { recompute_state(bench_, job); },
                           [this](long long job) {
                               bench_.events.publish(job, "computed", Json{{"job", job}}.dump());
                           });
    bench_.teaching.start([&bench = bench_](long long job) { teach_casting(bench, job); });
    // What was finished while the workbench was down, or when it stopped.
    for (const auto& job : store::Castings(bench_.database).jobs_that_may_name_one())
        bench_.teaching.add(job.id);
    WebOptions web;
    web.address = options.address;
    web.port = options.port;
    web.certificate = options.certificate;
    web.key = options.key;
    web.times = options.times;
    web.behind_proxy = bench_.access.rules().behind_proxy;
    web.headers = safe_headers(bench_.access.rules().secure);
    web.bound = [this](int port) { bench_.access.serve_on(port); };
    web.asker = [this](const Request& request) { return asker_of(request); };
    web.hear = [this](const Request& request) { return noted(router_.hear(request), request.method); };
    web_ = std::make_unique<WebServer>(std::move(web));
}

Asker HttpServer::asker_of(const Request& request) const {
    Asker asker{bench_.access.address_of(request), false};
    try {
        asker.logged_in = bench_.access.login_of(request).has_value();
    } catch (const std::exception& fault) {
        // Said to who asks where the route looks at the login, too.
        spdlog::error(fmt::format("login: {}", store::words_of(fault)));
    }
    return asker;
}

Heard HttpServer::noted(Heard heard, const std::string& method) const {
    if (heard.refused) {
        note({method, heard.route, heard.refused->status, {}, heard.person});
        return heard;
    }
    heard.answer = [this, method, route = heard.route, person = heard.person,
                    answer = std::move(heard.answer)](const Request& request) {
        const auto began = std::chrono::steady_clock::now();
        Response response = answer(request);
        note({method, route, response.status, std::chrono::steady_clock::now() - began, person});
        return response;
    };
    return heard;
}

void HttpServer::note(const AnswerNote& answered) const {
    bench_.counters.note(answered);
    if (log_requests_) log_answered(answered);
}

HttpServer::~HttpServer() {
    stop();
}

void HttpServer::stop() {
    bench_.events.close();
    web_->stop();
}

}  // namespace seatwright::server
