// Path lengths, their derivatives and gravity's moments by MuJoCo.
// usage: node tendon.mjs MODEL.xml POSES.json [SECONDS]
//   POSES.json  [[number, ...], ...], one qpos vector per posture
// prints {engine, dofs, tendons, postures, timing}
//   dofs      name of the joint of each column
//   tendons   names
//   postures  per posture: lengths [m]; derivatives, per tendon {column: d(length)/d(qvel)}
//             without the zeros; gravity, the generalised force that holds still, per dof
//   timing    with SECONDS: best microseconds per posture of the whole position stage,
//             and of the least of it that gives lengths and derivatives; else null
import fs from 'node:fs';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { answer, need } from './need.mjs';

const [modelFile, posesFile, seconds] = process.argv.slice(2);
const { default: load } = await import(pathToFileURL(need.resolve('@mujoco/mujoco')));
const mj = await load({ print: (text) => console.error(text), printErr: (text) => console.error(text) });
const model = mj.MjModel.from_xml_string(fs.readFileSync(modelFile, 'utf8'));
const poses = JSON.parse(fs.readFileSync(posesFile, 'utf8'));
const data = new mj.MjData(model);

const named = (count, kind, of) => Array.from({ length: count }, (_, i) => mj.mj_id2name(model, kind.value, of(i)));
const dofs = named(model.nv, mj.mjtObj.mjOBJ_JOINT, (i) => model.dof_jntid[i]);
const tendons = named(model.ntendon, mj.mjtObj.mjOBJ_TENDON, (i) => i);

function derivatives(tendon) {
  const row = {};
  for (let k = 0; k < model.ten_J_rownnz[tendon]; k++) {
    const at = model.ten_J_rowadr[tendon] + k;
    if (data.ten_J[at] !== 0) row[model.ten_J_colind[at]] = data.ten_J[at];
  }
  return row;
}

const postures = poses.map((qpos, i) => {
  if (qpos.length !== model.nq) throw new Error(`posture ${i} has ${qpos.length} numbers, the model ${model.nq}`);
  data.qpos.set(qpos);
  data.qvel.fill(0);
  mj.mj_fwdPosition(model, data);
  mj.mj_fwdVelocity(model, data);
  return { lengths: [...data.ten_length], derivatives: tendons.map((_, t) => derivatives(t)), gravity: [...data.qfrc_bias] };
});

// fastest runs a stage over all postures again and again and keeps the best round.
function fastest(stage) {
  const vectors = poses.map((qpos) => Float64Array.from(qpos));
  const end = performance.now() + 1000 * Number(seconds);
  let best = Infinity;
  while (performance.now() < end) {
    const start = performance.now();
    for (const qpos of vectors) {
      data.qpos.set(qpos);
      stage();
    }
    best = Math.min(best, (performance.now() - start) / vectors.length);
  }
  return 1000 * best;
}

const timing = seconds && {
  position_us: fastest(() => mj.mj_fwdPosition(model, data)),
  paths_us: fastest(() => {
    mj.mj_kinematics(model, data);
    mj.mj_comPos(model, data);
    mj.mj_tendon(model, data);
  }),
};
answer({ engine: `MuJoCo ${mj.mj_versionString()}`, dofs, tendons, postures, timing: timing ?? null });
