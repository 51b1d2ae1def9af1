#include "server/http/log_lines.hpp"

#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <chrono>
#include <memory>
#include <nlohmann/json.hpp>

#include "seatwright/store/database.hpp"

namespace seatwright::server {

namespace {

// A payload that begins with a brace is a line's fields already.
class JsonLines : public spdlog::formatter {
  public:
    void format(const spdlog::details::log_msg& message, spdlog::memory_buf_t& out) override {
        using Json = nlohmann::ordered_json;
        const auto ms =
            std::chrono::duration_cast<std::chrono::milliseconds>(message.time.time_since_epoch()).count();
        const auto level = spdlog::level::to_string_view(message.level);
        Json line{{"at", store::iso_time(ms)}, {"level", std::string(level.data(), level.size())}};
        const std::string said(message.payload.data(), message.payload.size());
        Json fields = said.starts_with('{') ? Json::parse(said, nullptr, false) : Json();
        if (fields.is_object())
            line.update(fields);
        else
            line["message"] = said;
        const std::string text = line.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
        out.append(text.data(), text.data() + text.size());
    }
    std::unique_ptr<spdlog::formatter> clone() const override { return std::make_unique<JsonLines>(); }
};

}  // namespace

void log_as_lines() {
    auto sink = std::make_shared<spdlog::sinks::stderr_sink_mt>();
    sink->set_formatter(std::make_unique<JsonLines>());
    spdlog::set_default_logger(std::make_shared<spdlog::logger>("", std::move(sink)));
    spdlog::flush_on(spdlog::level::info);
}

void log_answered(const AnswerNote& answered) {
    nlohmann::ordered_json line{{"method", answered.method},
                                {"route", std::string(answered.route)},
                                {"status", answered.status},
                                {"ms", 1000 * answered.seconds.count()}};
    if (answered.person != 0) line["person"] = answered.person;
    spdlog::info(line.dump());
}

}  // namespace seatwright::server
