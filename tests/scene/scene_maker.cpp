// scene_maker OUT [--key=value ...]: writes OUT.wav (microphone left, receiver right)
// and OUT.rttm with the operator's and the far station's speech.
#include "daemon/replay/labels.h"
#include "tests/scene/scene.h"

#include <CLI/CLI.hpp>
#include <sndfile.hh>

#include <filesystem>
#include <fstream>
#include <iostream>

namespace {

using namespace tripline;

struct Options {
    std::string out;
    double rate_hz = 48000;
    double seconds = 120;
    double voice_dbfs = -26;
    double receiver_dbfs = -26;
    double leak_delay_ms = 5;
    double hold_ms = 1500;
    double near_gap_s = 2;
    bool never_muted = false;
    scene::SceneSettings scene;
};

Duration seconds(double value) { return Duration{static_cast<Duration::rep>(value * 1e9)}; }

void declare(CLI::App& app, Options& o) {
    app.add_option("out", o.out, "Path of the scene without extension")->required();
    app.add_option("--rate", o.rate_hz, "Sample rate in Hz")->capture_default_str();
    app.add_option("--seconds", o.seconds, "Length")->capture_default_str();
    app.add_option("--seed", o.scene.seed, "Seed of everything random")->capture_default_str();
    app.add_option("--voice", o.voice_dbfs, "Operator's active level, dBFS")->capture_default_str();
    app.add_option("--receiver", o.receiver_dbfs, "Far speech's active level, dBFS")
        ->capture_default_str();
    app.add_option("--leak", o.scene.leak.value, "Far speech at the microphone, dB to the voice")
        ->capture_default_str();
    app.add_option("--leak-delay", o.leak_delay_ms, "ms")->capture_default_str();
    app.add_option("--open-band", o.scene.open_band.value, "Receiver noise, dB to far speech")
        ->capture_default_str();
    app.add_option("--room", o.scene.room.value, "Pink room noise, dB to the voice")
        ->capture_default_str();
    app.add_option("--noise", o.scene.noise,
                   "pink, hum, keyboard, footsteps, impacts, crowd, slide or talkers");
    app.add_option("--noise-level", o.scene.noise_level.value, "dB to the voice")
        ->capture_default_str();
    app.add_option("--near-gap", o.near_gap_s, "Longest wait before the operator answers, s")
        ->capture_default_str();
    app.add_option("--hold", o.hold_ms, "Hang time of the station that mutes the receiver, ms")
        ->capture_default_str();
    app.add_flag("--never-muted", o.never_muted, "The receiver plays on while the operator speaks");
    app.add_flag("!--no-near", o.scene.script.near_speaks, "The operator is silent");
    app.add_flag("!--no-far", o.scene.script.far_speaks, "The far station is silent");
}

void finish(Options& o) {
    o.scene.script.length = seconds(o.seconds);
    o.scene.script.near_level = Dbfs{o.voice_dbfs};
    o.scene.script.far_level = Dbfs{o.receiver_dbfs};
    o.scene.script.near_answers.most = seconds(o.near_gap_s);
    o.scene.leak_delay = seconds(o.leak_delay_ms / 1000);
}

std::vector<replay::Label> labels_of(const std::vector<scene::Spurt>& spurts, const std::string& file,
                                     int channel, const std::string& name) {
    std::vector<replay::Label> labels;
    for (const auto& s : spurts) labels.push_back({file, channel, s.onset, s.end - s.onset, name});
    return labels;
}

void write_sound(const Options& o, scene::Scene& scene, scene::IdealStation station) {
    SndfileHandle file(o.out + ".wav", SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 2,
                       static_cast<int>(o.rate_hz));
    if (file.error() != SF_ERR_NO_ERROR) throw std::runtime_error(o.out + ".wav: " + file.strError());
    std::vector<float> block;
    for (Frames at; at < scene.length(); at += Frames{1}) {
        const auto sample = scene.next(!o.never_muted && station.keyed(at));
        block.insert(block.end(), {sample.microphone, sample.receiver});
        if (block.size() < 16384 && at.count + 1 < scene.length().count) continue;
        const auto frames = static_cast<sf_count_t>(block.size() / 2);
        if (file.writef(block.data(), frames) != frames) throw std::runtime_error("write failed");
        block.clear();
    }
}

void make(const Options& o) {
    const Hertz rate{o.rate_hz};
    scene::Corpus corpus(rate);
    scene::Scene scene(o.scene, corpus);
    const auto near = scene::spurts_of(scene.script().near, rate);
    const auto far = scene::spurts_of(scene.script().far, rate);
    const Duration hold = seconds(o.hold_ms / 1000);
    write_sound(o, scene, scene::IdealStation(near, hold, rate));

    const std::string name = std::filesystem::path(o.out).filename().string();
    std::ofstream text(o.out + ".rttm");
    replay::write_labels(text, labels_of(near, name, 1, "near"));
    replay::write_labels(text, labels_of(far, name, 2, "far"));
    text.flush();
    if (!text) throw std::runtime_error(o.out + ".rttm: cannot be written");
    std::cout << o.out << ".wav: seed " << o.scene.seed << ", " << o.seconds << " s, "
              << scene::join(near, hold).size() << " overs of the operator\n";
}

}  // namespace

int main(int argc, char** argv) {
    CLI::App app("Makes a two-channel scene with labels from recorded speech");
    Options options;
    declare(app, options);
    CLI11_PARSE(app, argc, argv);
    try {
        finish(options);
        make(options);
    } catch (const std::exception& error) {
        std::cerr << "scene_maker: " << error.what() << '\n';
        return 2;
    }
    return 0;
}
