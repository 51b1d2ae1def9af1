#include "server/feeds/answer_reader.hpp"

#include <array>
#include <boost/beast/http/buffer_body.hpp>
#include <boost/beast/http/parser.hpp>

#include "seatwright/words/english_server.hpp"

namespace seatwright::server {

namespace http = boost::beast::http;

struct AnswerReader::Parser {
    http::response_parser<http::buffer_body> http;
};

AnswerReader::AnswerReader() : parser_(std::make_unique<Parser>()) {
    constexpr unsigned long long endless = 1ULL << 62;  // a stream goes on for days
    constexpr std::uint32_t head = 32 << 10;
    parser_->http.body_limit(endless);
    parser_->http.header_limit(head);
    parser_->http.eager(true);
}

AnswerReader::~AnswerReader() = default;

std::string AnswerReader::add(std::string_view bytes) {
    held_ += bytes;
    std::string body;
    std::array<char, 1 << 14> piece{};
    while (!held_.empty() && fault_.empty() && !parser_->http.is_done()) {
        auto& to = parser_->http.get().body();
        to.data = piece.data();
        to.size = piece.size();
        boost::beast::error_code fault;
        const auto used = parser_->http.put(boost::asio::const_buffer(held_.data(), held_.size()), fault);
        if (parser_->http.is_header_done()) body.append(piece.data(), piece.size() - to.size);
        held_.erase(0, used);
        if (fault == http::error::need_more) break;
        if (fault && fault != http::error::need_buffer)
            fault_ = sentence<"no-http">("fault"_is = fault.message());
        else if (used == 0 && fault != http::error::need_buffer)
            break;
    }
    return body;
}

void AnswerReader::end() {
    boost::beast::error_code fault;
    parser_->http.put_eof(fault);
    if (fault && fault_.empty()) fault_ = sentence<"ended-in-the-middle">();
}

bool AnswerReader::head_known() const {
    return parser_->http.is_header_done();
}
bool AnswerReader::whole() const {
    return parser_->http.is_done();
}
int AnswerReader::status() const {
    return parser_->http.get().result_int();
}
std::string AnswerReader::content_type() const {
    return std::string(parser_->http.get()[http::field::content_type]);
}

}  // namespace seatwright::server
