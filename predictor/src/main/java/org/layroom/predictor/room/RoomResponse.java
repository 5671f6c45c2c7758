package org.layroom.predictor.room;

import java.util.OptionalDouble;

/**
 * How this room answers to heating and airing, from what was seen; empty where nothing was seen.
 *
 * @param warmUps warm-ups counted, at most 20; the sun through a big door counts as one too
 * @param warmingKPerH usual rise of the air in a warm-up, K per hour
 * @param warmestC highest air temperature reached in a warm-up, degC
 * @param airings fast falls of the air counted, at most 20: an open door or a fan
 * @param airingDropK usual depth of such a fall, K
 * @param moldFollowsHours time in which the mold comes 63 % of the way to the air's temperature, h
 */
public record RoomResponse(
    int warmUps,
    OptionalDouble warmingKPerH,
    OptionalDouble warmestC,
    int airings,
    OptionalDouble airingDropK,
    OptionalDouble moldFollowsHours) {}
