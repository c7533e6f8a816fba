// The strip chart: newest at the right, -90 to 0 dBFS, lines told apart by their strokes.
const lowest = -90;
const span = 120;

const strokes = [
  { column: 1, dash: [], width: 2 },        // microphone
  { column: 2, dash: [2, 4], width: 2 },    // receiver
  { column: 3, dash: [7, 4], width: 1 },    // receiver expected at the microphone
  { column: 5, dash: [], width: 4 },        // threshold
];

export class Chart {
  constructor(canvas) {
    this.canvas = canvas;
    this.draw2d = canvas.getContext("2d");
  }

  // dBFS of a place within the canvas, from its top.
  levelAt(y) {
    const part = (y - 8) / (this.plotHeight() || 1);
    return Math.max(lowest, Math.min(0, part * lowest));
  }

  plotHeight() { return this.canvas.clientHeight - 46; }

  draw(rows, spells, opening) {
    const { canvas, draw2d: d } = this;
    const scale = window.devicePixelRatio || 1;
    canvas.width = canvas.clientWidth * scale;
    canvas.height = canvas.clientHeight * scale;
    d.setTransform(scale, 0, 0, scale, 0, 0);
    const style = getComputedStyle(document.documentElement);
    this.ink = style.getPropertyValue("--ink");
    this.rule = style.getPropertyValue("--rule");
    this.right = canvas.clientWidth - 4;
    this.end = rows.length ? rows[rows.length - 1][0] : 0;
    this.grid();
    if (!rows.length) return;
    for (const stroke of strokes) this.line(rows, stroke);
    this.opening(opening);
    this.band("K", canvas.clientHeight - 32, keyedSpells(rows));
    this.band("T", canvas.clientHeight - 14, spells || []);
  }

  x(seconds) { return this.right - (this.end - seconds) / span * (this.right - 34); }
  y(level) { return 8 + Math.max(lowest, Math.min(0, level)) / lowest * this.plotHeight(); }

  grid() {
    const d = this.draw2d;
    d.font = "11px sans-serif";
    d.fillStyle = this.ink;
    d.strokeStyle = this.rule;
    d.lineWidth = 1;
    d.setLineDash([]);
    for (let level = 0; level >= lowest; level -= 15) {
      const y = Math.round(this.y(level)) + 0.5;
      d.beginPath(); d.moveTo(34, y); d.lineTo(this.right, y); d.stroke();
      d.fillText(String(level), 4, y + 4);
    }
  }

  line(rows, { column, dash, width }) {
    const d = this.draw2d;
    d.strokeStyle = this.ink;
    d.globalAlpha = column === 5 ? 0.45 : 1;
    d.lineWidth = width;
    d.setLineDash(dash);
    d.beginPath();
    for (const row of rows) if (row[0] >= this.end - span) d.lineTo(this.x(row[0]), this.y(row[column]));
    d.stroke();
    d.globalAlpha = 1;
  }

  opening(level) {
    if (level === undefined) return;
    const d = this.draw2d, y = this.y(level);
    d.fillStyle = this.ink;
    d.beginPath(); d.moveTo(34, y); d.lineTo(24, y - 6); d.lineTo(24, y + 6); d.fill();
  }

  band(name, y, spells) {
    const d = this.draw2d;
    d.fillStyle = this.ink;
    d.fillText(name, 14, y + 8);
    for (const [from, to] of spells) {
      const left = Math.max(34, this.x(from)), right = this.x(to);
      if (right > 34) d.fillRect(left, y, Math.max(2, right - left), 10);
    }
  }
}

export function keyedSpells(rows) {
  const spells = [];
  let before = 0;
  for (const row of rows) {
    if (row[6] && !before) spells.push([row[0], row[0]]);
    if (row[6]) spells[spells.length - 1][1] = row[0];
    before = row[6];
  }
  return spells;
}
