// The only source that includes Boost.Asio and Beast.
#include "server/http/web_server.hpp"

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/ssl/context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/string.hpp>
#include <boost/beast/http/empty_body.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/status.hpp>
#include <boost/beast/ssl/ssl_stream.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <thread>
#include <vector>

#include "server/http/connection.hpp"

namespace seatwright::server {

namespace {

namespace asio = boost::asio;
namespace http = boost::beast::http;
using tcp = asio::ip::tcp;
using SocketFault = boost::system::error_code;
using TlsContext = asio::ssl::context;
using KeptBusy = asio::executor_work_guard<asio::io_context::executor_type>;

// What plain and TLS have in common; Stream: tcp::socket or one of TLS over it.
template <class Stream>
class SocketWire : public Wire {
  public:
    template <class... Arguments>
    explicit SocketWire(asio::io_context& context, Arguments&&... arguments)
        : context_(context), timer_(context), stream_(std::forward<Arguments>(arguments)...) {
        SocketFault ignored;
        socket().set_option(tcp::no_delay(true), ignored);
        socket().non_blocking(true, ignored);
    }

    std::string address() const override {
        SocketFault failed;
        auto address = boost::beast::get_lowest_layer(stream_).remote_endpoint(failed).address();
        if (failed) return {};
        if (address.is_v6() && address.to_v6().is_v4_mapped())
            address = asio::ip::make_address_v4(asio::ip::v4_mapped, address.to_v6());
        return address.to_string();
    }
    void post(std::function<void()> work) override { asio::post(context_, std::move(work)); }
    void read(std::span<char> room, std::function<void(bool, std::size_t)> done) override {
        stream_.async_read_some(
            asio::buffer(room.data(), room.size()),
            [done = std::move(done)](SocketFault failed, std::size_t count) { done(!failed, count); });
    }
    void write(std::string_view first, std::string_view second, Done done) override {
        // Beast's stream under TLS takes an empty buffer before a large one for the end, and Asio leaves one
        // when it has written the first of a pair; of a list it leaves none.
        std::vector<asio::const_buffer> both;
        both.reserve(2);
        for (const std::string_view one : {first, second})
            if (!one.empty()) both.push_back(asio::buffer(one.data(), one.size()));
        asio::async_write(stream_, both,
                          [done = std::move(done)](SocketFault failed, std::size_t) { done(!failed); });
    }
    void wake_at(Clock::time_point when, std::function<void()> alarm) override {
        when_ = when;
        alarm_ = std::move(alarm);
        if (armed_ && *armed_ <= when) return;  // it looks again when it goes off
        arm();
    }
    void close() override {
        alarm_ = {};
        timer_.cancel();
        SocketFault ignored;
        socket().shutdown(tcp::socket::shutdown_both, ignored);
        socket().close(ignored);
    }

  protected:
    tcp::socket& socket() { return boost::beast::get_lowest_layer(stream_); }
    Stream& stream() { return stream_; }

    void end_writing(std::function<void()> done) {
        SocketFault ignored;
        socket().shutdown(tcp::socket::shutdown_send, ignored);
        read_away(std::move(done), 0);
    }

  private:
    void arm() {
        armed_ = when_;
        timer_.expires_at(when_);
        timer_.async_wait([this, here = std::weak_ptr<bool>(here_)](SocketFault failed) {
            if (failed || here.expired()) return;
            armed_.reset();
            if (!alarm_) return;
            if (Clock::now() < when_) return arm();
            const auto alarm = std::exchange(alarm_, {});
            alarm();
        });
    }

    void read_away(std::function<void()> done, std::size_t seen) {
        constexpr std::size_t most = 1u << 20;
        std::array<char, 4096> room{};
        SocketFault failed;
        while (!failed && seen < most) seen += socket().read_some(asio::buffer(room), failed);
        if (failed != asio::error::would_block) return done();
        socket().async_wait(tcp::socket::wait_read,
                            [this, done = std::move(done), seen](SocketFault error) mutable {
                                if (!error) return read_away(std::move(done), seen);
                                if (error != asio::error::operation_aborted) done();
                            });
    }

    asio::io_context& context_;
    asio::steady_timer timer_;
    Stream stream_;
    std::shared_ptr<bool> here_ = std::make_shared<bool>(true);
    Clock::time_point when_;
    std::optional<Clock::time_point> armed_;
    std::function<void()> alarm_;
};

class PlainWire : public SocketWire<tcp::socket> {
  public:
    using SocketWire::SocketWire;
    void greet(Done done) override { done(true); }
    void take_leave(std::function<void()> done) override { end_writing(std::move(done)); }
};

class TlsWire : public SocketWire<boost::beast::ssl_stream<tcp::socket>> {
  public:
    using SocketWire::SocketWire;
    void greet(Done done) override {
        stream().async_handshake(asio::ssl::stream_base::server,
                                 [done = std::move(done)](SocketFault failed) { done(!failed); });
    }
    void take_leave(std::function<void()> done) override {
        stream().async_shutdown([this, done = std::move(done)](SocketFault failed) {
            if (failed != asio::error::operation_aborted) end_writing(done);
        });
    }
};

std::unique_ptr<TlsContext> tls_of(const std::string& certificate, const std::string& key) {
    if (certificate.empty() && key.empty()) return nullptr;
    auto context = std::make_unique<TlsContext>(TlsContext::tls_server);
    SSL_CTX* const raw = context->native_handle();
    SSL_CTX_set_min_proto_version(raw, TLS1_2_VERSION);
    SSL_CTX_set_options(raw, SSL_OP_NO_COMPRESSION | SSL_OP_NO_RENEGOTIATION);
    SSL_CTX_set_mode(raw, SSL_MODE_RELEASE_BUFFERS);
    // A key with a passphrase is refused in a sentence, not asked for at a terminal nobody sits at.
    SSL_CTX_set_default_passwd_cb(raw, [](char*, int, int, void*) { return 0; });
    SocketFault failed;
    context->use_certificate_chain_file(certificate, failed);
    if (!failed) context->use_private_key_file(key, TlsContext::pem, failed);
    if (failed || SSL_CTX_check_private_key(raw) != 1)
        throw CannotServe(fmt::format(
            "{} and {} cannot be used: both must be PEM files, the key without a passphrase and the one that "
            "belongs to the certificate",
            certificate, key));
    return context;
}

}  // namespace

std::optional<ParsedHead> parsed_head(const std::string& text) {
    http::request_parser<http::empty_body> parser;
    parser.header_limit(static_cast<std::uint32_t>(longest_head + 1));
    parser.skip(true);  // the body, whose length has been judged
    SocketFault failed;
    parser.put(asio::buffer(text), failed);
    if (failed || !parser.is_header_done()) return std::nullopt;
    const auto& read = parser.get();
    const auto view = [](auto piece) { return std::string_view(piece.data(), piece.size()); };
    ParsedHead head;
    head.request.method = view(read.method_string());
    if (!take_target(head.request, view(read.target()))) return std::nullopt;
    for (const auto& field : read)
        head.request.headers.emplace_back(view(field.name_string()), view(field.value()));
    constexpr unsigned version_1_0 = 10;
    head.old = read.version() == version_1_0;
    head.keep_alive = read.keep_alive();
    head.waits = boost::beast::iequals(read[http::field::expect], "100-continue");
    return head;
}

std::string_view reason_of(int status) {
    const auto words = http::obsolete_reason(http::int_to_status(static_cast<unsigned>(status)));
    return {words.data(), words.size()};
}

class WebServer::Inside {
  public:
    explicit Inside(WebOptions options)
        : house_(std::move(options)),
          tls_(tls_of(house_.options.certificate, house_.options.key)),
          acceptor_(contexts_[0]),
          again_(contexts_[0]) {
        bind();
        if (house_.options.bound) house_.options.bound(port_);
        accept();
        for (auto& context : contexts_) threads_.emplace_back([&context] { context.run(); });
    }
    ~Inside() { stop(); }
    Inside(const Inside&) = delete;
    Inside& operator=(const Inside&) = delete;

    int port() const { return port_; }

    // A connection that stands holds on to what it was greeted with (OpenSSL counts).
    void use_certificate(const std::string& certificate, const std::string& key) {
        auto made = std::make_shared<std::unique_ptr<TlsContext>>(tls_of(certificate, key));
        asio::post(contexts_[0], [this, made] { tls_.swap(*made); });
    }

    void stop() {
        if (threads_.empty()) return;
        house_.stopping = true;
        asio::post(contexts_[0], [this] {
            SocketFault ignored;
            acceptor_.close(ignored);
            again_.cancel();
            for (const auto& one : connections_)
                if (const auto connection = one.lock()) connection->stop();
        });
        house_.wait_until_empty();
        for (auto& work : keep_) work.reset();
        for (auto& thread : threads_) thread.join();
        threads_.clear();
        house_.workers.finish();
    }

  private:
    void bind() {
        const WebOptions& options = house_.options;
        SocketFault failed;
        tcp::resolver resolver(contexts_[0]);
        const auto found = resolver.resolve(options.address, std::to_string(options.port),
                                            tcp::resolver::passive | tcp::resolver::numeric_service, failed);
        if (!failed) {
            const tcp::endpoint end = found.begin()->endpoint();
            acceptor_.open(end.protocol(), failed);
            if (!failed) acceptor_.set_option(tcp::acceptor::reuse_address(true), failed);
            if (!failed) acceptor_.bind(end, failed);
            if (!failed) acceptor_.listen(tcp::acceptor::max_listen_connections, failed);
        }
        if (failed)
            throw CannotServe(fmt::format(
                "{} port {} cannot be listened on: another program has it, or the address is not this "
                "machine's; choose another with --port or --listen",
                options.address, options.port));
        port_ = acceptor_.local_endpoint().port();
    }

    void accept() {
        auto& context = contexts_[next_++ % contexts_.size()];
        acceptor_.async_accept(context, [this, &context](SocketFault failed, tcp::socket socket) {
            if (!acceptor_.is_open()) return;
            if (failed) return accept_later();
            take_in(context, std::move(socket));
            accept();
        });
    }

    // The process has no more file handles, most likely: those in use are given back soon.
    void accept_later() {
        again_.expires_after(std::chrono::milliseconds(50));
        again_.async_wait([this](SocketFault failed) {
            if (!failed && acceptor_.is_open()) accept();
        });
    }

    void take_in(asio::io_context& context, tcp::socket socket) {
        std::unique_ptr<Wire> wire;
        if (tls_)
            wire = std::make_unique<TlsWire>(context, std::move(socket), *tls_);
        else
            wire = std::make_unique<PlainWire>(context, std::move(socket));
        const auto connection = std::make_shared<Connection>(house_, std::move(wire));
        constexpr int tries = 25;
        begin(connection, tries);
    }

    // Many who are logged in may come from one address at once, and are strangers until their heads have been
    // read: who finds no place waits a moment, if not too many do.
    void begin(const std::shared_ptr<Connection>& connection, int tries) {
        constexpr int most_in_line = 64;
        constexpr std::chrono::milliseconds moment{20};
        if (connection->begin()) {
            std::erase_if(connections_, [](const auto& one) { return one.expired(); });
            connections_.push_back(connection);
            return;
        }
        if (tries == 0 || in_line_ >= most_in_line) return;
        ++in_line_;
        const auto timer = std::make_shared<asio::steady_timer>(contexts_[0], moment);
        timer->async_wait([this, connection, tries, timer](SocketFault) {
            --in_line_;
            if (!house_.stopping) begin(connection, tries - 1);
        });
    }

    House house_;
    std::unique_ptr<TlsContext> tls_;
    std::array<asio::io_context, 2> contexts_;
    std::array<KeptBusy, 2> keep_{KeptBusy(contexts_[0].get_executor()),
                                  KeptBusy(contexts_[1].get_executor())};
    tcp::acceptor acceptor_;
    asio::steady_timer again_;
    std::vector<std::weak_ptr<Connection>> connections_;  // of the first thread
    int in_line_ = 0;
    std::size_t next_ = 0;
    std::vector<std::thread> threads_;
    int port_ = 0;
};

WebServer::WebServer(WebOptions options) : inside_(std::make_unique<Inside>(std::move(options))) {}
WebServer::~WebServer() = default;
int WebServer::port() const {
    return inside_->port();
}
void WebServer::use_certificate(const std::string& certificate, const std::string& key) {
    inside_->use_certificate(certificate, key);
}
void WebServer::stop() {
    inside_->stop();
}

}  // namespace seatwright::server
