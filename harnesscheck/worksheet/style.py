"""How the worksheet looks: light lettering on black for a dark hangar, everything to touch at least 48 px high."""

STYLE = """
:root { color-scheme: dark; --a: #ffb000; --b: #6cc6ff; --good: #58d68d; --wrong: #ff7a70; --line: #555; }
html { scroll-padding: 5.5rem 0 6rem; }
body { background: #000; color: #f2f2f2; padding: 0 0.8rem 9rem; max-width: 46rem; font-size: 1.05rem; }
a { color: #9fd0ff; } h1 { font-size: 1.3rem; } h2 { border-top: 2px solid #777; }
.caution { border-color: #ffd34d; } dl { font-size: 0.9rem; }
button, .button, input, select, textarea { font: inherit; min-height: 3rem; box-sizing: border-box; color: #fff;
  background: #1c1c1c; border: 2px solid #8a8a8a; border-radius: 0.5rem; padding: 0.4rem 0.7rem; }
button, .button { background: #2d3a4a; cursor: pointer; touch-action: manipulation; text-decoration: none; }
button:focus-visible, input:focus-visible, select:focus-visible, a:focus-visible { outline: 3px solid #fff; }
#bar { position: sticky; top: 0; z-index: 3; background: #000; border-bottom: 2px solid #777; padding: 0.5rem 0;
  display: grid; grid-template-columns: 1fr auto auto; gap: 0.4rem 0.5rem; align-items: center; }
#bar[hidden] { display: none; }
#bar progress { grid-column: 1 / -1; width: 100%; height: 0.8rem; accent-color: #58d68d; }
#bar output { font-size: 0.95rem; } #bar output.wrong { color: var(--wrong); font-weight: bold; }
#bar .button { display: inline-flex; align-items: center; }
nav { display: grid; gap: 0.5rem; margin: 1rem 0; }
nav .button { display: flex; justify-content: space-between; gap: 1rem; align-items: center; }
.tally { color: #ccc; white-space: nowrap; font-size: 0.9rem; }
.field { display: grid; gap: 0.2rem; margin: 0.6rem 0; } .field input { width: 100%; }
.before { border-left: 4px solid #ffd34d; padding-left: 0.6rem; margin: 0.5rem 0; font-size: 0.95rem; }
.row { border: 2px solid var(--line); border-radius: 0.6rem; padding: 0.5rem 0.7rem; margin: 0.7rem 0; }
.row p { margin: 0.25rem 0; } .row.now { border-color: #fff; background: #101418; }
.row.good { border-left: 0.6rem solid var(--good); } .row.wrong { border: 3px solid var(--wrong); }
.row.wrong, .row.unread, .row.noted { border-left-width: 0.6rem; } .row.noted { border-left-color: #bbb; }
.top { display: flex; justify-content: space-between; } .no { font-weight: bold; }
.verdict { font-weight: bold; text-transform: uppercase; } .verdict { color: #bbb; }
.good .verdict { color: var(--good); } .good .verdict::before { content: '\\2713\\00a0'; }
.wrong .verdict, .odd .verdict, .wrong .said, .odd .said { color: var(--wrong); }
.wrong .verdict::before { content: '\\2717\\00a0'; }
.lead { display: flex; gap: 0.6rem; align-items: baseline; font-size: 1.2rem; font-weight: bold; }
.lead b { color: #000; border-radius: 0.3rem; padding: 0 0.5rem; } b.a { background: var(--a); }
b.b { background: var(--b); } .all { font-size: 0.9rem; color: #ddd; }
.accept { display: flex; flex-wrap: wrap; gap: 0 1rem; } .computed, .why { color: #ccc; font-size: 0.9rem; }
.type { display: flex; gap: 0.45rem; } .type .value { flex: 1 1 5rem; min-width: 0; font-size: 1.4rem; }
.type > * { min-height: 3.2rem; } .type select { padding: 0.3rem; }
.type button { flex: none; padding: 0.3rem 0.8rem; } .said:empty { display: none; } .said { font-weight: bold; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.ready .row:not(.now) .more, .ready .row:not(.now) .why, .ready #shelf { display: none; }
.faces { display: grid; gap: 0.5rem; margin-top: 0.5rem; } .face { margin: 0; } .faces .face { display: contents; }
.face figcaption { font-size: 0.72rem; line-height: 1.25; color: #aaa; order: 1; }
.face figcaption.unknown { font-size: 0.95rem; color: #ffe9a8; order: 0; }
.face svg { width: 100%; height: auto; max-width: 34rem; }
.face svg > rect { fill: #101418; } .face svg [fill='white'] { fill: #101418; } .face svg text { fill: #ddd; }
.face svg [stroke='black'] { stroke: #aaa; } .face svg [fill='black'] { fill: #aaa; }
.face .at-a circle, .face .at-a polygon { fill: var(--a) !important; stroke: #fff !important; stroke-width: 10; }
.face .at-b circle, .face .at-b polygon { fill: var(--b) !important; stroke: #fff !important; stroke-width: 10;
  stroke-dasharray: 18 8; }
.face .at-a text,
.face .at-b text { fill: #000; font-weight: bold; font-size: 50px; }
.buttons, #sure { display: flex; flex-wrap: wrap; gap: 0.7rem; } .buttons.apart { margin-top: 2.5rem; }
#sure[hidden] { display: none; } #sure { border: 3px solid var(--wrong); padding: 0.7rem; } #sure p { width: 100%; }
.danger { background: #7a1410; } .warn { border: 2px solid var(--wrong); padding: 0.5rem; font-weight: bold; }
#out { width: 100%; font-family: monospace; font-size: 0.9rem; }
#cautions { position: fixed; left: 0; right: 0; bottom: 0; z-index: 3; background: #2b2300; color: #ffe9a8;
  border-top: 2px solid #ffd34d; padding: 0.3rem 0.8rem; font-size: 0.78rem; line-height: 1.25; }
#cautions p { margin: 0.1rem auto; max-width: 46rem; }
@media print { #bar, #cautions { position: static; } }
"""
