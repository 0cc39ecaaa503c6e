import agYang from '../../materials/ag-yang.json' with { type: 'json' };
import alMcpeak from '../../materials/al-mcpeak.json' with { type: 'json' };
import al2o3Ald from '../../materials/al2o3-ald.json' with { type: 'json' };
import caf2CrystalDaimon from '../../materials/caf2-crystal-daimon.json' with { type: 'json' };
import crSputter from '../../materials/cr-sputter.json' with { type: 'json' };
import germaniumLi from '../../materials/germanium-li.json' with { type: 'json' };
import germaniumVisible from '../../materials/germanium-visible.json' with { type: 'json' };
import hfo2Porous from '../../materials/hfo2-porous.json' with { type: 'json' };
import hfo2Spot from '../../materials/hfo2-spot.json' with { type: 'json' };
import hfo2Sputter from '../../materials/hfo2-sputter.json' with { type: 'json' };
import laf3Boat from '../../materials/laf3-boat.json' with { type: 'json' };
import mgf2Boat from '../../materials/mgf2-boat.json' with { type: 'json' };
import mgf2CrystalE from '../../materials/mgf2-crystal-e.json' with { type: 'json' };
import mgf2CrystalLi from '../../materials/mgf2-crystal-li.json' with { type: 'json' };
import nb2o5SputterFranta from '../../materials/nb2o5-sputter-franta.json' with { type: 'json' };
import nb2o5SputterHorcholle from '../../materials/nb2o5-sputter-horcholle.json' with { type: 'json' };
import niRakic from '../../materials/ni-rakic.json' with { type: 'json' };
import sapphireE from '../../materials/sapphire-e.json' with { type: 'json' };
import sc2o3Sputter from '../../materials/sc2o3-sputter.json' with { type: 'json' };
import si3n4Lpcvd from '../../materials/si3n4-lpcvd.json' with { type: 'json' };
import si3n4Philipp from '../../materials/si3n4-philipp.json' with { type: 'json' };
import siliconVisible from '../../materials/silicon-visible.json' with { type: 'json' };
import siliconVisibleSchinke from '../../materials/silicon-visible-schinke.json' with { type: 'json' };
import sio2EbeamRodriguez from '../../materials/sio2-ebeam-rodriguez.json' with { type: 'json' };
import sio2Iad from '../../materials/sio2-iad.json' with { type: 'json' };
import ta2o5Ebeam from '../../materials/ta2o5-ebeam.json' with { type: 'json' };
import ta2o5EbeamRodriguez from '../../materials/ta2o5-ebeam-rodriguez.json' with { type: 'json' };
import ta2o5Sputter from '../../materials/ta2o5-sputter.json' with { type: 'json' };
import tio2AldJolivet from '../../materials/tio2-ald-jolivet.json' with { type: 'json' };
import tio2AldSiefke from '../../materials/tio2-ald-siefke.json' with { type: 'json' };
import tio2Porous from '../../materials/tio2-porous.json' with { type: 'json' };
import znseCrystalMarple from '../../materials/znse-crystal-marple.json' with { type: 'json' };
import zro2Crystal from '../../materials/zro2-crystal.json' with { type: 'json' };
import type { MaterialFile } from './material-files.ts';

/** Further data sets of materials that the usual list has, loaded when somebody looks beyond it. */
export const FURTHER_MATERIAL_FILES: readonly MaterialFile[] = [
  agYang,
  alMcpeak,
  al2o3Ald,
  caf2CrystalDaimon,
  crSputter,
  germaniumLi,
  germaniumVisible,
  hfo2Porous,
  hfo2Spot,
  hfo2Sputter,
  laf3Boat,
  mgf2Boat,
  mgf2CrystalE,
  mgf2CrystalLi,
  nb2o5SputterFranta,
  nb2o5SputterHorcholle,
  niRakic,
  sapphireE,
  sc2o3Sputter,
  si3n4Lpcvd,
  si3n4Philipp,
  siliconVisible,
  siliconVisibleSchinke,
  sio2EbeamRodriguez,
  sio2Iad,
  ta2o5Ebeam,
  ta2o5EbeamRodriguez,
  ta2o5Sputter,
  tio2AldJolivet,
  tio2AldSiefke,
  tio2Porous,
  znseCrystalMarple,
  zro2Crystal,
];
