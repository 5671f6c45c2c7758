package org.layroom.predictor.cure;

/**
 * Every clock that is run for the cases of the ensemble, one row a clock: where it runs, at how
 * many gel times of the cup it is due, and how far published multiples lie apart. A new clock is a
 * new row.
 */
enum EnsembleClock {
  STOP(Runs.IN_CUP, CureFigures.STOP, Ensemble.STOP, PriorSpreads.LN_STOP),
  GEL(Runs.IN_CUP, 1),
  FILM_GEL(Runs.ON_MOLD, 1) {
    @Override
    double gels(double lnFilm, double peak, CureShape shape, double deviations) {
      return StrictMath.exp(lnFilm);
    }
  },
  EXOTHERM(Runs.ON_MOLD, 1) {
    @Override
    double gels(double lnFilm, double peak, CureShape shape, double deviations) {
      return shape.hottest(peak);
    }
  },
  TRIM_OPENS(Runs.ON_MOLD, 1) {
    @Override
    double gels(double lnFilm, double peak, CureShape shape, double deviations) {
      return shape.trimOpens(peak, StrictMath.exp(lnFilm));
    }
  },
  TRIM_CLOSES(Runs.ON_MOLD, 1) {
    @Override
    double gels(double lnFilm, double peak, CureShape shape, double deviations) {
      return shape.trimCloses(peak, StrictMath.exp(lnFilm));
    }
  },
  LAMINATE(Runs.ON_MOLD, CureFigures.LAMINATE, Ensemble.LAMINATE, PriorSpreads.LN_LAMINATE),
  DEMOLD(Runs.IN_HOURS, 0),
  FULL(Runs.IN_HOURS, 0);

  /** What a clock runs on. */
  enum Runs {
    /** Gel times at the temperature of the resin in the cup. */
    IN_CUP,
    /** Gel times at the temperature of the mold. */
    ON_MOLD,
    /** Equivalent hours at 20 degC on the mold, and never before gel. */
    IN_HOURS
  }

  private final Runs runs;
  private final double multiple;
  private final int input;
  private final double sdLn;

  EnsembleClock(Runs runs, double multiple) {
    this(runs, multiple, 0, 0);
  }

  /**
   * @param input which number of a case decides where between the published multiples it lies
   * @param sdLn standard deviation of their logarithm
   */
  EnsembleClock(Runs runs, double multiple, int input, double sdLn) {
    this.runs = runs;
    this.multiple = multiple;
    this.input = input;
    this.sdLn = sdLn;
  }

  Runs runs() {
    return runs;
  }

  /** After how many gel times of the cup it is due in one case. */
  final double gels(double[] can, int member, CureShape shape) {
    return gels(
        can[MaterialPosterior.LN_FILM_RATIO],
        Ensemble.normal(member, Ensemble.EXOTHERM),
        shape,
        sdLn == 0 ? 0 : Ensemble.normal(member, input));
  }

  /** After how many gel times of the cup it is likely due. */
  final double likelyGels(MaterialPosterior posterior, CureShape shape) {
    return gels(StrictMath.log(posterior.likelyFilmRatio()), 0, shape, 0);
  }

  /**
   * After how many gel times of the cup it is due.
   *
   * @param lnFilm logarithm of film gel over cup gel
   * @param peak where this can's exotherm lies among others, in standard deviations
   * @param deviations where it lies between the published multiples of this clock
   */
  double gels(double lnFilm, double peak, CureShape shape, double deviations) {
    return multiple * StrictMath.exp(sdLn * deviations);
  }
}
