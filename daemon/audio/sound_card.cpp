#include "daemon/audio/sound_card.h"

#include <algorithm>
#include <span>

namespace tripline::audio {

namespace {

constexpr std::size_t most_frames_a_piece = 4096;
constexpr std::size_t bridge_frames = 4096;  // 85 ms at 48 kHz

bool two_devices(const Settings& settings) {
    return !settings.monitor_device.empty() && settings.monitor_device != settings.device;
}

std::span<const float> channel(const float* const* in, int number, std::size_t offset, std::size_t frames) {
    if (number < 1) return {};
    return {in[number - 1] + offset, frames};
}

std::span<float> channel(float* const* out, int number, std::size_t offset, std::size_t frames) {
    if (number < 1 || out == nullptr) return {};
    return {out[number - 1] + offset, frames};
}

}  // namespace

Need microphone_need(const Settings& settings) {
    const int receiver = two_devices(settings) ? 0 : settings.receiver_channel;
    return {.inputs = std::max(settings.microphone_channel, receiver),
            .outputs = std::max(settings.transmitter_channel, settings.loudspeaker_channel)};
}

Need monitor_need(const Settings& settings) {
    return {.inputs = two_devices(settings) ? settings.receiver_channel : 0, .outputs = 0};
}

SoundCard::SoundCard(const Settings& settings, Pulse& pulse) : settings_(settings), pulse_(pulse) {
    const std::vector<Device> devices = system_.devices();
    const Need need = microphone_need(settings_);
    const Device& device = choose_device(devices, settings_.device, need);
    stream_ = std::make_unique<SoundStream>(device, need, settings_, &SoundCard::on_block, this);
    description_ = stable_name(device) + " at " + std::to_string(static_cast<int>(rate().value)) + " Hz";
    if (monitor_need(settings_).inputs > 0) open_monitor(devices);
}

void SoundCard::open_monitor(const std::vector<Device>& devices) {
    const Need need = monitor_need(settings_);
    const Device& device = choose_device(devices, settings_.monitor_device, need);
    bridge_ = std::make_unique<MonitorBridge>(bridge_frames);
    bridged_.resize(most_frames_a_piece);
    monitor_ = std::make_unique<SoundStream>(device, need, settings_, &SoundCard::on_monitor_block, this);
    description_ += ", receiver on " + stable_name(device);
}

void SoundCard::start(BlockHandler& handler) {
    handler_ = &handler;
    started_ = true;
    if (monitor_) monitor_->start();
    stream_->start();
}

void SoundCard::stop() noexcept {
    if (!started_) return;
    started_ = false;
    stream_->stop();
    if (monitor_) monitor_->stop();
}

bool SoundCard::ended() const noexcept {
    return started_ && (!stream_->active() || (monitor_ && !monitor_->active()));
}

int SoundCard::on_block(const void* in, void* out, unsigned long frames, const PaStreamCallbackTimeInfo*,
                        PaStreamCallbackFlags flags, void* self) {
    auto& card = *static_cast<SoundCard*>(self);
    const auto* ins = static_cast<const float* const*>(in);
    auto* const* outs = static_cast<float* const*>(out);
    if ((flags & (paInputOverflow | paInputUnderflow)) != 0) card.handler_->flag();
    for (int i = 0; outs != nullptr && i < microphone_need(card.settings_).outputs; ++i) {
        std::fill_n(outs[i], frames, 0.0F);
    }
    for (std::size_t offset = 0; offset < frames; offset += most_frames_a_piece) {
        card.deliver(ins, outs, offset, std::min<std::size_t>(most_frames_a_piece, frames - offset));
    }
    return paContinue;
}

void SoundCard::deliver(const float* const* in, float* const* out, std::size_t offset, std::size_t frames) noexcept {
    station::Block block{.microphone = channel(in, settings_.microphone_channel, offset, frames),
                         .receiver = {},
                         .transmitter = channel(out, settings_.transmitter_channel, offset, frames),
                         .loudspeaker = channel(out, settings_.loudspeaker_channel, offset, frames)};
    if (bridge_) {
        const std::span<float> receiver{bridged_.data(), frames};
        bridge_->pull(receiver);
        block.receiver = receiver;
    } else {
        block.receiver = channel(in, settings_.receiver_channel, offset, frames);
    }
    handler_->process(block);
}

int SoundCard::on_monitor_block(const void* in, void*, unsigned long frames, const PaStreamCallbackTimeInfo*,
                                PaStreamCallbackFlags flags, void* self) {
    auto& card = *static_cast<SoundCard*>(self);
    if ((flags & (paInputOverflow | paInputUnderflow)) != 0) card.handler_->flag();
    card.bridge_->push(channel(static_cast<const float* const*>(in), card.settings_.receiver_channel, 0, frames));
    card.pulse_.monitor_blocks.fetch_add(1, std::memory_order_release);
    return paContinue;
}

}  // namespace tripline::audio
