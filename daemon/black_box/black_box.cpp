#include "daemon/black_box/black_box.h"

#include "daemon/black_box/budget.h"
#include "daemon/black_box/capture.h"
#include "daemon/black_box/folder.h"

#include <array>
#include <chrono>
#include <ctime>

namespace tripline::black_box {
namespace {

using std::chrono_literals::operator""ms;

/// So long the engine's events may be on their way.
constexpr auto arrival = 500ms;
constexpr std::size_t most_waiting = 8;
constexpr std::size_t most_earlier = 8;

std::string time_now() {
    const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    std::tm utc{};
    ::gmtime_r(&now, &utc);
    std::array<char, 32> text{};
    std::strftime(text.data(), text.size(), "%Y%m%d-%H%M%S", &utc);
    return text.data();
}

Outcome failed(std::string why) {
    Outcome outcome;
    outcome.failure = std::move(why);
    return outcome;
}

}  // namespace

BlackBox::BlackBox(Settings settings)
    : settings_(std::move(settings)), writer_([this](const std::stop_token& stop) { run(stop); }) {}

BlackBox::~BlackBox() = default;

void BlackBox::begin(const Start& start) {
    const std::scoped_lock lock(mutex_);
    station::Settings station = start.in_force.station;
    station.start_mode = start.mode == station::Mode::safe ? start.mode : station::Mode::armed;
    if (engine_ && engine_->memory.end() > Frames{}) earlier_.push_back(engine_);
    if (earlier_.size() > most_earlier) earlier_.pop_front();
    const auto shadow = std::make_shared<Shadow>(station, start.rate);
    if (!start.memory.empty()) shadow->begin_with(start.memory);
    engine_ = std::make_shared<Engine>(Engine{Memory(start.rate, start.hop, settings_.length), start.rate, start.at, start.in_force, shadow,
                                              start.memory.empty() ? start.memory : shadow->remembered()});
    engine_->memory.set_mode_at_begin(start.mode);
}

void BlackBox::take(std::span<const Frame> frames) {
    const std::scoped_lock lock(mutex_);
    if (!engine_) return;
    engine_->memory.add(frames);
    engine_->heard = std::chrono::system_clock::now();
    forget_earlier();
    if (engine_->memory.has_left()) asked_.notify_one();
}

void BlackBox::forget_earlier() {
    Duration since = to_duration(engine_->memory.end(), engine_->rate);
    for (auto engine = earlier_.rbegin(); engine != earlier_.rend(); ++engine) {
        if (since > settings_.length) {
            earlier_.erase(earlier_.begin(), engine.base());
            return;
        }
        since += to_duration((*engine)->memory.end(), (*engine)->rate);
    }
}

void BlackBox::take(const station::Event& event) {
    {
        const std::scoped_lock lock(mutex_);
        if (!engine_) return;
        station::Event since_start = event;
        since_start.at -= engine_->at;
        engine_->memory.add(since_start);
    }
    const bool forced = event.kind == station::EventKind::state && event.reason == station::Reason::too_long;
    if (forced) capture("time-out");
}

bool BlackBox::capture(std::string why) {
    const std::scoped_lock lock(mutex_);
    if (wanted_.size() >= most_waiting) return false;
    wanted_.push_back(std::move(why));
    ++asked_for_;
    asked_.notify_one();
    return true;
}

std::optional<KeptSound> BlackBox::kept() {
    const std::scoped_lock lock(mutex_);
    if (!engine_) return std::nullopt;
    const Memory& memory = engine_->memory;
    return KeptSound{memory.past(), engine_->rate, engine_->at + memory.begin(), memory.events(), engine_->in_force};
}

std::vector<Heard> BlackBox::heard() {
    std::vector<Heard> all;
    for (const auto& engine : engines()) {
        const std::scoped_lock lock(mutex_);
        const Duration length = to_duration(engine->memory.end() - engine->memory.begin(), engine->rate);
        all.push_back({engine->heard - std::chrono::round<std::chrono::milliseconds>(length), engine->heard});
    }
    return all;
}

std::uint64_t BlackBox::asked() {
    const std::scoped_lock lock(mutex_);
    return asked_for_;
}

bool BlackBox::finish(Duration left) {
    constexpr Duration to_delete = 500ms;
    haste_.hurry(left);
    writer_.request_stop();
    std::unique_lock lock(mutex_);
    return ended_.wait_for(lock, left + to_delete, [this] { return finished_; });
}

std::optional<Outcome> BlackBox::next_outcome() {
    const std::scoped_lock lock(mutex_);
    if (outcomes_.empty()) return std::nullopt;
    Outcome first = std::move(outcomes_.front());
    outcomes_.pop_front();
    return first;
}

void BlackBox::run(const std::stop_token& stop) {
    std::unique_lock lock(mutex_);
    const auto left = [this] { return engine_ && engine_->memory.has_left(); };
    while (asked_.wait(lock, stop, [&] { return !wanted_.empty() || left(); })) {
        if (left()) follow(lock);
        if (wanted_.empty()) continue;
        asked_.wait_for(lock, stop, arrival, [] { return false; });
        const std::string why = wanted_.front();
        const std::uint64_t number = asked_for_ - wanted_.size() + 1;
        wanted_.pop_front();
        lock.unlock();
        write(why, number);
        lock.lock();
    }
    finished_ = true;
    ended_.notify_all();
}

/// Leads the shadow to where what is kept begins; nobody waits for it.
void BlackBox::follow(std::unique_lock<std::mutex>& lock) {
    const auto left = engine_->memory.take_left();
    const auto shadow = engine_->shadow;
    lock.unlock();
    shadow->follow(left);
    lock.lock();
}

void BlackBox::write(const std::string& why, std::uint64_t number) {
    const auto tell = [&](Outcome outcome, bool last) {
        outcome.number = number;
        outcome.last = last;
        const std::scoped_lock lock(mutex_);
        outcomes_.push_back(std::move(outcome));
    };
    const auto heard = engines();
    if (heard.empty()) tell(failed("no sound has been heard yet"), true);
    for (const auto& engine : heard) tell(write(*engine, why + (engine == heard.back() ? "" : "-earlier")), engine == heard.back());
}

/// Those that have heard something, the oldest first.
std::vector<std::shared_ptr<BlackBox::Engine>> BlackBox::engines() {
    const std::scoped_lock lock(mutex_);
    std::vector<std::shared_ptr<Engine>> heard(earlier_.begin(), earlier_.end());
    if (engine_ && engine_->memory.end() > Frames{}) heard.push_back(engine_);
    return heard;
}

Outcome BlackBox::write(Engine& engine, const std::string& why) {
    Stretch stretch;
    stretch.why = why;
    stretch.time = time_now();
    config::Settings in_force;
    std::vector<Left> left;
    std::shared_ptr<Shadow> shadow;
    Outcome outcome;
    {
        const std::scoped_lock lock(mutex_);
        Memory& memory = engine.memory;
        stretch.rate = engine.rate;
        stretch.past = memory.past();
        stretch.complete = memory.complete();
        stretch.mode = memory.mode_at_begin();
        stretch.events = memory.events();
        in_force = engine.in_force;
        left = memory.take_left();
        shadow = engine.shadow;
        stretch.memory = engine.began_with;
        outcome.ended = engine.heard;
        outcome.length = to_duration(length_of(stretch.past), engine.rate);
    }
    try {
        shadow->follow(left);
        if (!stretch.complete) stretch.memory = shadow->remembered();
        if (const std::string fault = unfit(settings_.folder); !fault.empty()) return failed(fault);
        if (!make_room(settings_.folder, settings_.budget_bytes, most_bytes(length_of(stretch.past)))) {
            return failed("the disk budget has no room for it");
        }
        outcome.sound = write_capture(settings_.folder, stretch, in_force, haste_);
        return outcome;
    } catch (const std::exception& error) {
        return failed(error.what());
    }
}

}  // namespace tripline::black_box
