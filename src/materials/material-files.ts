import glass471660 from '../../materials/471660.json' with { type: 'json' };
import glass497816 from '../../materials/497816.json' with { type: 'json' };
import glass517642 from '../../materials/517642.json' with { type: 'json' };
import glass523585 from '../../materials/523585.json' with { type: 'json' };
import glass569560 from '../../materials/569560.json' with { type: 'json' };
import glass620364 from '../../materials/620364.json' with { type: 'json' };
import glass648338 from '../../materials/648338.json' with { type: 'json' };
import glass673322 from '../../materials/673322.json' with { type: 'json' };
import glass691547 from '../../materials/691547.json' with { type: 'json' };
import glass713538 from '../../materials/713538.json' with { type: 'json' };
import glass744448 from '../../materials/744448.json' with { type: 'json' };
import glass785258 from '../../materials/785258.json' with { type: 'json' };
import glass788474 from '../../materials/788474.json' with { type: 'json' };
import glass805254 from '../../materials/805254.json' with { type: 'json' };
import glass805254Lead from '../../materials/805254-lead.json' with { type: 'json' };
import glass835427 from '../../materials/835427.json' with { type: 'json' };
import ag from '../../materials/ag.json' with { type: 'json' };
import al from '../../materials/al.json' with { type: 'json' };
import al2o3 from '../../materials/al2o3.json' with { type: 'json' };
import alf3 from '../../materials/alf3.json' with { type: 'json' };
import caf2 from '../../materials/caf2.json' with { type: 'json' };
import caf2Crystal from '../../materials/caf2-crystal.json' with { type: 'json' };
import cef3 from '../../materials/cef3.json' with { type: 'json' };
import cr from '../../materials/cr.json' with { type: 'json' };
import fusedSilica from '../../materials/fused-silica.json' with { type: 'json' };
import ge from '../../materials/ge.json' with { type: 'json' };
import germanium from '../../materials/germanium.json' with { type: 'json' };
import hfo2 from '../../materials/hfo2.json' with { type: 'json' };
import laf3 from '../../materials/laf3.json' with { type: 'json' };
import laf3Crystal from '../../materials/laf3-crystal.json' with { type: 'json' };
import mgf2 from '../../materials/mgf2.json' with { type: 'json' };
import mgf2Crystal from '../../materials/mgf2-crystal.json' with { type: 'json' };
import na3alf6 from '../../materials/na3alf6.json' with { type: 'json' };
import nb2o5 from '../../materials/nb2o5.json' with { type: 'json' };
import ni from '../../materials/ni.json' with { type: 'json' };
import rutile from '../../materials/rutile.json' with { type: 'json' };
import sapphire from '../../materials/sapphire.json' with { type: 'json' };
import sc2o3 from '../../materials/sc2o3.json' with { type: 'json' };
import sc2o3Crystal from '../../materials/sc2o3-crystal.json' with { type: 'json' };
import si from '../../materials/si.json' with { type: 'json' };
import si3n4 from '../../materials/si3n4.json' with { type: 'json' };
import silicon from '../../materials/silicon.json' with { type: 'json' };
import sio from '../../materials/sio.json' with { type: 'json' };
import sio2 from '../../materials/sio2.json' with { type: 'json' };
import sodaLime from '../../materials/soda-lime.json' with { type: 'json' };
import ta2o5 from '../../materials/ta2o5.json' with { type: 'json' };
import tio2 from '../../materials/tio2.json' with { type: 'json' };
import y2o3 from '../../materials/y2o3.json' with { type: 'json' };
import y2o3Crystal from '../../materials/y2o3-crystal.json' with { type: 'json' };
import ybf3 from '../../materials/ybf3.json' with { type: 'json' };
import yf3 from '../../materials/yf3.json' with { type: 'json' };
import zns from '../../materials/zns.json' with { type: 'json' };
import znsCrystal from '../../materials/zns-crystal.json' with { type: 'json' };
import znse from '../../materials/znse.json' with { type: 'json' };
import znseCrystal from '../../materials/znse-crystal.json' with { type: 'json' };
import zro2 from '../../materials/zro2.json' with { type: 'json' };
import zro2Y2o3Crystal from '../../materials/zro2-y2o3-crystal.json' with { type: 'json' };

/**
 * The usual materials of the top-level folder `materials/`, there at once; a test compares this list and that
 * of the further data sets with the folder.
 */
export const MATERIAL_FILES: readonly MaterialFile[] = [
  glass471660,
  glass497816,
  glass517642,
  glass523585,
  glass569560,
  glass620364,
  glass648338,
  glass673322,
  glass691547,
  glass713538,
  glass744448,
  glass785258,
  glass788474,
  glass805254,
  glass805254Lead,
  glass835427,
  ag,
  al,
  al2o3,
  alf3,
  caf2,
  caf2Crystal,
  cef3,
  cr,
  fusedSilica,
  ge,
  germanium,
  hfo2,
  laf3,
  laf3Crystal,
  mgf2,
  mgf2Crystal,
  na3alf6,
  nb2o5,
  ni,
  rutile,
  sapphire,
  sc2o3,
  sc2o3Crystal,
  si,
  si3n4,
  silicon,
  sio,
  sio2,
  sodaLime,
  ta2o5,
  tio2,
  y2o3,
  y2o3Crystal,
  ybf3,
  yf3,
  zns,
  znsCrystal,
  znse,
  znseCrystal,
  zro2,
  zro2Y2o3Crystal,
];

/** What a file of a material surely has before its schema is checked. */
export interface MaterialFile {
  readonly id: string;
}
