#include "daemon/audio/recorder.h"

#include <sndfile.h>

#include <chrono>

namespace tripline::audio {

namespace {

constexpr std::size_t ring_frames = 1U << 19;  // 10 s at 48 kHz: a slow disk loses nothing
constexpr std::size_t frames_a_write = 4096;
constexpr auto pause = std::chrono::milliseconds{20};

}  // namespace

struct Recorder::File {
    File(const std::string& path, Hertz rate) {
        SF_INFO info{};
        info.samplerate = static_cast<int>(rate.value);
        info.channels = 2;
        info.format = SF_FORMAT_RF64 | SF_FORMAT_FLOAT;  // a WAV's lengths end at 4 GiB: three hours at 48 kHz
        handle = sf_open(path.c_str(), SFM_WRITE, &info);
        if (handle == nullptr) throw Error(path + ": " + sf_strerror(nullptr));
        sf_command(handle, SFC_RF64_AUTO_DOWNGRADE, nullptr, SF_TRUE);  // shorter, it is a WAV
    }
    ~File() { sf_close(handle); }
    File(const File&) = delete;
    File& operator=(const File&) = delete;

    SNDFILE* handle = nullptr;
};

static_assert(sizeof(Frame) == 2 * sizeof(float), "a frame is written as two interleaved floats");

Recorder::Recorder(const std::string& path, Hertz rate, Listener listener)
    : listener_(std::move(listener)),
      ring_(ring_frames),
      frames_(frames_a_write),
      file_(path.empty() ? nullptr : std::make_unique<File>(path, rate)),
      writer_([this] { run(); }) {}

Recorder::~Recorder() { end(); }

void Recorder::end() {
    stop_.store(true);
    if (writer_.joinable()) writer_.join();
}

void Recorder::run() {
    std::unique_lock lock(mutex_);
    while (!stop_.load()) {
        const unsigned asked = flushes_asked_;
        lock.unlock();
        drain();
        lock.lock();
        flushes_done_ = asked;
        changed_.notify_all();
        changed_.wait_for(lock, pause, [&] { return flushes_asked_ != asked; });
    }
    lock.unlock();
    drain();
    file_.reset();
}

bool Recorder::flush(Duration patience) {
    std::unique_lock lock(mutex_);
    const unsigned mine = ++flushes_asked_;
    changed_.notify_all();
    return changed_.wait_for(lock, patience, [&] { return flushes_done_ == mine; });
}

void Recorder::drain() {
    while (const std::size_t got = ring_.pop(std::span(frames_))) {
        const std::span<const Frame> frames(frames_.data(), got);
        if (listener_ && !deaf_.load()) listener_(frames);
        if (file_ && !failed()) write(frames);
    }
}

void Recorder::write(std::span<const Frame> frames) {
    const auto wanted = static_cast<sf_count_t>(frames.size());
    if (sf_writef_float(file_->handle, &frames.front().microphone, wanted) == wanted) return;
    failed_.store(true, std::memory_order_relaxed);
}

}  // namespace tripline::audio
