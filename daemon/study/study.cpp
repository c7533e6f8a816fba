#include "daemon/study/study.h"

#include "daemon/study/margins.h"
#include "daemon/study/measures.h"
#include "daemon/study/refusal.h"

#include <nlohmann/json.hpp>

#include <sys/resource.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cmath>

namespace tripline::study {
namespace {

constexpr int least_urgent = 19;
constexpr std::size_t most_overs = 1000;

void give_way() {
    ::setpriority(PRIO_PROCESS, static_cast<id_t>(::syscall(SYS_gettid)), least_urgent);
}

std::string failed(const std::string& why) { return nlohmann::json{{"failed", why}}.dump(); }

}  // namespace

Study::Study(black_box::BlackBox& box, const control::Desk& desk)
    : box_(box), desk_(desk), thread_([this](const std::stop_token& stop) { run(stop); }) {}

Study::~Study() = default;

bool Study::begin(Subject subject, std::string request) {
    const std::scoped_lock lock(mutex_);
    if (wanted_ || working_) return false;
    subject_ = subject;
    request_ = std::move(request);
    wanted_ = true;
    share_ = 0;
    asked_.notify_one();
    return true;
}

std::string Study::outcome() const {
    const std::scoped_lock lock(mutex_);
    if (!wanted_ && !working_) return outcome_;
    return nlohmann::json{{"working", std::round(share_ * 100) / 100}}.dump();
}

void Study::run(const std::stop_token& stop) {
    give_way();
    std::unique_lock lock(mutex_);
    while (asked_.wait(lock, stop, [this] { return wanted_; })) {
        wanted_ = false;
        working_ = true;
        const Subject subject = subject_;
        const std::string request = request_;
        lock.unlock();
        std::string outcome = work(subject, request, stop);
        lock.lock();
        outcome_ = std::move(outcome);
        working_ = false;
    }
}

std::string Study::work(Subject subject, const std::string& request, const std::stop_token& stop) {
    const auto progress = [this, &stop](double share) {
        if (stop.stop_requested()) throw Ended{};
        share_ = share;
    };
    try {
        const auto kept = box_.kept();
        if (!kept) throw Refusal("no sound has been heard yet");
        if (subject == Subject::measures) return measures(*kept, request, progress);
        return margins(*kept, desk_.overs(most_overs), progress);
    } catch (const std::exception& error) {
        return failed(error.what());
    } catch (const Ended&) {
        return failed("the station ends");
    }
}

}  // namespace tripline::study
