// Draws the levels of a replay and lets them be zoomed. Needs nothing but the page it is in.
"use strict";

const data = JSON.parse(document.getElementById("data").textContent);
const canvas = document.getElementById("view");
const figures = document.getElementById("figures");
const paint = canvas.getContext("2d");

const left = 92, right = 12, upper = 12;
const panels = [{name: "Microphone", height: 240}, {name: "Receiver", height: 110}];
const lanes = [["labels", data.labels, "#fff"], ["voice", data.voice, "#777"], ["key closed", data.keyed, "#111"],
               ["mistakes", data.mistakes, "#a00000"]];
const laneHeight = 18, gap = 26;
const shortest = 0.05;   // seconds in view

/// Levels as bytes: 0 is none, else half decibels from -127 dBFS up.
function levels(text) { return Uint8Array.from(atob(text), c => c.charCodeAt(0)); }
function dbfs(byte) { return byte / 2 - 127.5; }
const series = Object.fromEntries(
    ["microphoneLow", "microphoneHigh", "receiverLow", "receiverHigh", "leak", "threshold"].map(k => [k, levels(data[k])]));

let from = 0, to = data.seconds;
let cursor = null;

function width() { return canvas.width / devicePixelRatio - left - right; }
function x(seconds) { return left + (seconds - from) / (to - from) * width(); }
function seconds(px) { return from + (px - left) / width() * (to - from); }

function show(newFrom, newTo) {
    const span = Math.min(Math.max(newTo - newFrom, shortest), data.seconds);
    from = Math.min(Math.max(newFrom, 0), data.seconds - span);
    to = from + span;
    draw();
}
function zoom(factor, at) { show(at - (at - from) * factor, at + (to - at) * factor); }
function move(share) { show(from + share * (to - from), to + share * (to - from)); }

/// The columns of a pixel: at least one.
function columns(px) {
    const of = s => Math.floor(s / data.seconds * data.columns);
    const first = Math.min(Math.max(of(seconds(px)), 0), data.columns - 1);
    return [first, Math.min(Math.max(of(seconds(px + 1)), first + 1), data.columns)];
}
function extreme(values, px, better) {
    const [first, last] = columns(px);
    let found = 0;
    for (let i = first; i < last; ++i) if (values[i] && (!found || better(values[i], found))) found = values[i];
    return found;
}
const lowest = (values, px) => extreme(values, px, (a, b) => a < b);
const highest = (values, px) => extreme(values, px, (a, b) => a > b);

function drawBand(y, low, high) {
    paint.fillStyle = "#9aa7b1";
    for (let px = left; px < left + width(); ++px) {
        const l = lowest(low, px), h = highest(high, px);
        if (h) paint.fillRect(px, y(dbfs(h)), 1, Math.max(1, y(dbfs(l)) - y(dbfs(h))));
    }
}
function drawLine(y, values, colour, dash) {
    paint.strokeStyle = colour;
    paint.setLineDash(dash);
    paint.beginPath();
    let open = false;
    for (let px = left; px < left + width(); ++px) {
        const h = highest(values, px);
        if (h) paint[open ? "lineTo" : "moveTo"](px, y(dbfs(h)));
        open = h !== 0;
    }
    paint.stroke();
    paint.setLineDash([]);
}
function drawPanel(panel, at) {
    const y = level => Math.min(at + panel.height, Math.max(at, at + level / data.lowest * panel.height));
    paint.fillStyle = "#111";
    paint.textAlign = "start";
    paint.fillText(panel.name, 4, at + 14);
    paint.textAlign = "end";
    for (let level = 0; level >= data.lowest; level -= 10) {
        paint.fillStyle = "#ddd";
        paint.fillRect(left, y(level), width(), 1);
        paint.fillStyle = "#111";
        if (level % 20 === 0) paint.fillText(level, left - 6, y(level) + 4);
    }
    if (panel.name === "Microphone") {
        drawBand(y, series.microphoneLow, series.microphoneHigh);
        drawLine(y, series.leak, "#8a3d00", [7, 3]);
        drawLine(y, series.threshold, "#000", [1.5, 3]);
    } else {
        drawBand(y, series.receiverLow, series.receiverHigh);
    }
}
function drawLane([name, spans, colour], at) {
    paint.fillStyle = "#111";
    paint.textAlign = "end";
    paint.fillText(name, left - 6, at + 13);
    for (const [begin, end, kind] of spans) {
        if (end < from || begin > to) continue;
        const a = Math.max(left, x(begin)), b = Math.min(left + width(), x(end));
        paint.fillStyle = colour;
        paint.fillRect(a, at + 4, Math.max(1, b - a), 10);
        paint.strokeStyle = "#111";
        paint.strokeRect(a, at + 4, Math.max(1, b - a), 10);
        if (!kind) continue;
        paint.textAlign = "start";
        paint.fillText(kind, a, at + laneHeight + 11);
    }
}
function timeText(s) {
    const digits = to - from < 2 ? 3 : to - from < 20 ? 2 : 1;
    const minutes = Math.floor(s / 60);
    return minutes + ":" + (s - 60 * minutes).toFixed(digits).padStart(3 + digits, "0");
}
function drawTime(at) {
    paint.fillStyle = "#111";
    paint.textAlign = "center";
    for (let i = 0; i <= 6; ++i) {
        const s = from + i / 6 * (to - from);
        paint.fillText(timeText(s), Math.min(Math.max(x(s), left + 20), left + width() - 20), at);
    }
}
function tellFigures() {
    const px = cursor === null ? null : Math.round(x(cursor));
    if (px === null || px < left || px >= left + width()) { figures.textContent = "\u00a0"; return; }
    const level = v => v ? dbfs(v).toFixed(1) : "-";
    figures.textContent = timeText(cursor) + "   microphone " + level(highest(series.microphoneHigh, px)) +
        ", receiver " + level(highest(series.receiverHigh, px)) + ", leak " + level(highest(series.leak, px)) +
        ", threshold " + level(highest(series.threshold, px)) + " dBFS";
}

function draw() {
    const height = upper + panels.reduce((sum, p) => sum + p.height + gap, 0) + lanes.length * laneHeight + 34;
    canvas.style.height = height + "px";
    canvas.width = canvas.clientWidth * devicePixelRatio;
    canvas.height = height * devicePixelRatio;
    paint.setTransform(devicePixelRatio, 0, 0, devicePixelRatio, 0, 0);
    paint.font = "12px sans-serif";
    let at = upper;
    for (const panel of panels) {
        drawPanel(panel, at);
        drawTime(at + panel.height + 15);
        at += panel.height + gap;
    }
    for (const lane of lanes) {
        drawLane(lane, at);
        at += laneHeight;
    }
    if (cursor !== null && cursor >= from && cursor <= to) {
        paint.fillStyle = "#00508a";
        paint.fillRect(x(cursor), upper, 1, at - upper);
    }
    tellFigures();
}

let dragged = null;
canvas.addEventListener("wheel", event => {
    event.preventDefault();
    zoom(event.deltaY > 0 ? 1.25 : 0.8, seconds(event.offsetX));
}, {passive: false});
canvas.addEventListener("pointerdown", event => {
    dragged = event.offsetX;
    canvas.setPointerCapture(event.pointerId);
});
canvas.addEventListener("pointerup", () => { dragged = null; });
canvas.addEventListener("pointermove", event => {
    if (dragged !== null) {
        const shift = (dragged - event.offsetX) / width() * (to - from);
        dragged = event.offsetX;
        show(from + shift, to + shift);
    }
    cursor = seconds(event.offsetX);
    draw();
});
canvas.addEventListener("dblclick", () => show(0, data.seconds));
canvas.addEventListener("keydown", event => {
    const middle = (from + to) / 2;
    const does = {"+": () => zoom(0.5, middle), "-": () => zoom(2, middle), "0": () => show(0, data.seconds),
                  ArrowLeft: () => move(-0.25), ArrowRight: () => move(0.25)}[event.key];
    if (!does) return;
    event.preventDefault();
    does();
});
for (const button of document.querySelectorAll("button[data-from]")) {
    button.addEventListener("click", () => {
        const begin = Number(button.dataset.from), end = Number(button.dataset.to);
        const around = Math.max(1, end - begin);
        show(begin - around, end + around);
        canvas.focus();
    });
}
addEventListener("resize", draw);
draw();
