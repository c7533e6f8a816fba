#include "daemon/service/log.h"

#include <spdlog/async.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <cstdlib>

namespace tripline::service {

namespace {

constexpr std::size_t queued_lines = 1024;

/// The journal takes the level from "<n>" at the start of a line (sd-daemon(3)).
void set_pattern(spdlog::logger& logger, bool journal) {
    logger.set_pattern(journal ? "%v" : "%Y-%m-%d %H:%M:%S.%e %L %v");
}

std::string_view journal_prefix(Severity severity) {
    switch (severity) {
        case Severity::info: return "<6>";
        case Severity::warning: return "<4>";
        case Severity::error: return "<3>";
    }
    return "<6>";
}

spdlog::level::level_enum level_of(Severity severity) {
    switch (severity) {
        case Severity::info: return spdlog::level::info;
        case Severity::warning: return spdlog::level::warn;
        case Severity::error: return spdlog::level::err;
    }
    return spdlog::level::info;
}

spdlog::level::level_enum level_of(config::LogLevel level) {
    switch (level) {
        case config::LogLevel::error: return spdlog::level::err;
        case config::LogLevel::warning: return spdlog::level::warn;
        case config::LogLevel::info: return spdlog::level::info;
        case config::LogLevel::debug: return spdlog::level::debug;
    }
    return spdlog::level::info;
}

}  // namespace

struct Log::Sinks {
    std::shared_ptr<spdlog::details::thread_pool> pool =
        std::make_shared<spdlog::details::thread_pool>(queued_lines, 1U);
    std::shared_ptr<spdlog::async_logger> logger = std::make_shared<spdlog::async_logger>(
        "tripline", std::make_shared<spdlog::sinks::stderr_sink_mt>(), pool,
        spdlog::async_overflow_policy::overrun_oldest);
    bool journal = std::getenv("JOURNAL_STREAM") != nullptr;
};

Log::Log(config::LogLevel level) : sinks_(std::make_unique<Sinks>()) {
    set_pattern(*sinks_->logger, sinks_->journal);
    sinks_->logger->set_level(level_of(level));
    sinks_->logger->flush_on(spdlog::level::info);
    sinks_->logger->set_error_handler([](const std::string&) {});  // a log that can't be written is no fault
}

Log::~Log() = default;

void Log::close() { sinks_.reset(); }

void Log::say(Message message, const std::vector<std::string>& arguments) {
    const MessageText& entry = text_of(message);
    std::string line = fill(entry.text, arguments);
    if (sinks_->journal) line.insert(0, journal_prefix(entry.severity));
    sinks_->logger->log(level_of(entry.severity), line);
}

std::string fill(std::string_view text, const std::vector<std::string>& arguments) {
    std::string filled;
    auto argument = arguments.begin();
    while (!text.empty()) {
        const auto hole = text.find("{}");
        filled += text.substr(0, hole);
        if (hole == std::string_view::npos) break;
        if (argument != arguments.end()) filled += *argument++;
        text.remove_prefix(hole + 2);
    }
    return filled;
}

}  // namespace tripline::service
