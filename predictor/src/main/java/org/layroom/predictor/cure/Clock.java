package org.layroom.predictor.cure;

/** What is counted for every case of the ensemble. */
enum Clock {
  STOP,
  GEL,
  FILM_GEL,
  EXOTHERM,
  TRIM_OPENS,
  TRIM_CLOSES,
  LAMINATE,
  TWELVE_GELS,
  DEMOLD,
  FULL
}
