// Reads DXF and SVG files by JavaScript libraries and prints, for each reader and file, what each layer measures.
// usage: node read.cjs FILE...   (libraries are found by NODE_PATH)
const { readFileSync } = require("fs");

const round = (value) => Math.round(value * 1e4) / 1e4;

function measured() {
  return { layers: {}, unit: null };
}

function layerOf(result, name) {
  return (result.layers[name] ??= { length: 0, area: 0, radii: {} });
}

function addEdge(layer, a, b, bulge, closed) {
  const chord = Math.hypot(b.x - a.x, b.y - a.y);
  const angle = 4 * Math.atan(bulge || 0);
  if (closed) layer.area += (a.x * b.y - b.x * a.y) / 2;
  if (!angle) {
    layer.length += chord;
    return;
  }
  const radius = chord / 2 / Math.abs(Math.sin(angle / 2));
  layer.length += radius * Math.abs(angle);
  layer.radii[round(radius)] = true;
  if (closed) layer.area += (radius * radius * (angle - Math.sin(angle))) / 2;
}

function addPolyline(layer, vertices, closed) {
  vertices.forEach((vertex, i) => {
    const next = vertices[(i + 1) % vertices.length];
    if (closed || i + 1 < vertices.length) addEdge(layer, vertex, next, vertex.bulge, closed);
  });
}

function addCircle(layer, radius, sweep) {
  layer.length += radius * sweep;
  layer.radii[round(radius)] = true;
  if (sweep === 2 * Math.PI) layer.area += Math.PI * radius * radius;
}

function sweepOf(start, end) {
  const turn = 2 * Math.PI;
  return (((end - start) % turn) + turn) % turn;
}

function byParser(text) {
  const Parser = require("dxf-parser");
  const read = new (Parser.default || Parser)().parseSync(text);
  const result = measured();
  result.unit = read.header.$INSUNITS ?? 0;
  for (const entity of read.entities) {
    const layer = layerOf(result, entity.layer);
    if (entity.type.endsWith("POLYLINE")) addPolyline(layer, entity.vertices, entity.shape);
    if (entity.type === "LINE") addEdge(layer, entity.vertices[0], entity.vertices[1], 0, false);
    if (entity.type === "CIRCLE") addCircle(layer, entity.radius, 2 * Math.PI);
    if (entity.type === "ARC") addCircle(layer, entity.radius, sweepOf(entity.startAngle, entity.endAngle));
  }
  return result;
}

function byHelper(text) {
  const { Helper } = require("dxf");
  const read = new Helper(text).parsed;
  const result = measured();
  result.unit = read.header.insUnits ?? 0;
  for (const entity of read.entities) {
    const layer = layerOf(result, entity.layer);
    if (entity.type.endsWith("POLYLINE")) addPolyline(layer, entity.vertices, entity.closed);
    if (entity.type === "LINE") addEdge(layer, entity.start, entity.end, 0, false);
    if (entity.type === "CIRCLE") addCircle(layer, entity.r, 2 * Math.PI);
    if (entity.type === "ARC") addCircle(layer, entity.r, sweepOf(entity.startAngle, entity.endAngle));
  }
  return result;
}

function bySvgPath(text) {
  const { svgPathProperties } = require("svg-path-properties");
  const result = measured();
  for (const group of text.matchAll(/<g [^>]*data-layer="([^"]+)"[^>]*>([\s\S]*?)<\/g>/g)) {
    const layer = layerOf(result, group[1]);
    for (const path of group[2].matchAll(/ d="([^"]+)"/g)) {
      layer.length += new svgPathProperties(path[1]).getTotalLength();
      for (const arc of path[1].matchAll(/A ([\d.]+)/g)) layer.radii[round(Number(arc[1]))] = true;
    }
    for (const circle of group[2].matchAll(/<circle [^>]*r="([\d.]+)"/g)) addCircle(layer, Number(circle[1]), 2 * Math.PI);
  }
  return result;
}

const READERS = { dxf: { "dxf-parser": byParser, dxf: byHelper }, svg: { "svg-path-properties": bySvgPath } };

const told = {};
for (const file of process.argv.slice(2)) {
  const text = readFileSync(file, "utf8");
  for (const [name, read] of Object.entries(READERS[file.split(".").pop()])) {
    const result = read(text);
    for (const layer of Object.values(result.layers)) layer.radii = Object.keys(layer.radii).map(Number);
    (told[name] ??= {})[file] = result;
  }
}
console.log(JSON.stringify(told));
