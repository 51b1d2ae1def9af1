#include "server/http_server.hpp"

#include <fmt/format.h>

#include <malloc.h>
#include <sys/socket.h>

#include <csignal>

#include "server/answers/job_state.hpp"
#include "server/http/growing_pool.hpp"
#include "server/http/pages.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

// Each open connection and each event stream holds one thread; some more to turn others away.
constexpr std::size_t most_threads = GuestLimits{}.all + 16;
constexpr int waiting_connections = 256;
constexpr std::size_t requests_per_connection = 100'000;
// What the library tells the other side of how long a connection is kept; connections keep to their own
// times.
constexpr time_t idle_seconds =
    std::chrono::duration_cast<std::chrono::seconds>(ConnectionTimes{}.idle).count();

// Results and texts of some hundred kilobytes come and go with every entry: their memory is kept for the next
// ones, since giving it back to the kernel and fetching it again costs more than making some of them.
void keep_freed_memory() {
    constexpr int kept = 256 << 20, in_one_piece = 32 << 20, at_a_time = 16 << 20;  // bytes
    mallopt(M_TRIM_THRESHOLD, kept);
    mallopt(M_MMAP_THRESHOLD, in_one_piece);
    mallopt(M_TOP_PAD, at_a_time);
}

}  // namespace

void HttpServer::configure(httplib::Server& server) {
    server.new_task_queue = [] { return new GrowingPool(most_threads); };
    server.set_tcp_nodelay(true);
    server.set_keep_alive_max_count(requests_per_connection);
    server.set_keep_alive_timeout(idle_seconds);
    server.set_payload_max_length(most_file_body);
    server.set_default_headers(headers_);
    server.set_pre_routing_handler([](const httplib::Request& request, httplib::Response&) {
        hide_path(request);
        return httplib::Server::HandlerResponse::Unhandled;
    });
    server.set_post_routing_handler([](const httplib::Request& request, httplib::Response& response) {
        // The library says of every HEAD that byte ranges are offered.
        response.headers.erase("Accept-Ranges");
        // Under this name other programs of the machine are reached, too, by http.
        if (request.get_header_value("Host").starts_with("localhost"))
            response.headers.erase("Strict-Transport-Security");
    });
    // The library would share the port with another program (SO_REUSEPORT); this one wants it for itself.
    server.set_socket_options([this](socket_t socket) {
        const int yes = 1;
        ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
        socket_ = socket;
    });
    const auto sentence = [](const httplib::Request&, httplib::Response& response) {
        if (response.body.empty() && response.status >= 400)
            refuse(response, http_error(response.status,
                                        response.status == 413 ? "too large" : "the request cannot be read"));
        return httplib::Server::HandlerResponse::Handled;
    };
    server.set_error_handler(httplib::Server::HandlerWithResponse(sentence));
    router_.install(server, page_handler());
}

HttpServer::HttpServer(Workbench& bench, const HttpOptions& options)
    : bench_(bench),
      router_(bench.access),
      headers_(safe_headers(bench.access.rules().secure)),
      server_(make_server(options.certificate, options.key, doors())) {
    keep_freed_memory();
    // A listener that goes away must not end the program.
    std::signal(SIGPIPE, SIG_IGN);
    add_all_routes(router_, bench_);
    bench_.recompute.start([this](long long job) { recompute_state(bench_, job); },
                           [this](long long job) {
                               bench_.events.publish(job, "computed", Json{{"job", job}}.dump());
                           });
    configure(*server_);
    if (options.port == 0)
        port_ = server_->bind_to_any_port(options.address);
    else if (server_->bind_to_port(options.address, options.port))
        port_ = options.port;
    if (port_ <= 0)
        throw CannotServe(fmt::format(
            "{} port {} cannot be listened on: another program has it, or the address is not this machine's; "
            "choose another with --port or --listen",
            options.address, options.port));
    bench_.access.serve_on(port_);
    thread_ = std::thread([this] { server_->listen_after_bind(); });
    // The library lets five connections wait; of more that come at once the others would try again after a
    // second. Asking again widens the queue.
    ::listen(socket_, waiting_connections);
    // The socket is bound: connections wait in its queue until the thread takes them.
}

Doors HttpServer::doors() {
    Doors doors;
    doors.knows = [this](const std::string& cookie) {
        return !cookie.empty() && bench_.access.login_of(cookie).has_value();
    };
    doors.behind_proxy = bench_.access.rules().behind_proxy;
    doors.headers = headers_;
    return doors;
}

HttpServer::~HttpServer() {
    stop();
}

void HttpServer::stop() {
    bench_.events.close();
    server_->stop();
    if (thread_.joinable()) thread_.join();
}

}  // namespace seatwright::server
