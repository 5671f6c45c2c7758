package org.layroom.predictor.room;

/** A forecast, or why there is none. */
public sealed interface RoomAnswer permits RoomForecast, NoForecast {}
