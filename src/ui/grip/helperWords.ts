/** The grip helpers in words: names, what each is for, and the cautions of the trade. */
import type { GripHelper } from '../../sim/grip/gripRequest';

export const HELPER_WORDS: Readonly<Record<GripHelper, string>> = {
  nets: 'Stagger nets on a stand',
  flag: 'Flag a spill',
  mirror: 'Mirror to lengthen the throw',
  halfScrim: 'Half scrim in the lantern',
};
export const ADJUST_WORDS: Readonly<Record<GripHelper, string>> = {
  nets: 'Adjust the nets',
  flag: 'Adjust the flag',
  mirror: 'Adjust the mirror',
  halfScrim: 'Adjust the half scrim',
};
export const FOR_WORDS: Readonly<Record<GripHelper, string>> = {
  nets: 'levels the hot end from the near side',
  flag: 'keeps the lamp off what must stay dark',
  mirror: 'a longer path in the same space',
  halfScrim: 'levels the hot end without a stand',
};

const DEFER = 'Follow local code. A licensed electrician, a qualified rigger or a competent person decides.';
const STAND = 'Bag the stand, a leg under the load. Outdoors cloth is a sail: say who drops it, and at what wind.';
/** Common practice, no source. */
export const HELPER_CAUTIONS: Readonly<Record<GripHelper, readonly string[]>> = {
  nets: [STAND, 'Keep cloth off the hot lens: leave it air.', DEFER],
  flag: [STAND, 'Keep cloth off the hot lens: leave it air.', DEFER],
  mirror: [
    'Glass: tape its back, gloves to carry it. Bag and guy the stand, more of both when it is tall or in wind.',
    'Keep eyes out of the beam, and the sun off the glass: what it throws can set fire to things.',
    'The lamp has moved: bag its stand again and look where its cable runs.',
    DEFER,
  ],
  halfScrim: [
    'Metal mesh comes out hot: gloves. Safety bond on the doors, lamp down or off before the slot is opened.',
    DEFER,
  ],
};
