package org.layroom.predictor.material;

import java.util.List;
import java.util.stream.Collectors;

/** A material that cannot be used, with everything that is wrong with it at once. */
public final class InvalidMaterial extends Exception {
  private static final long serialVersionUID = 1L;

  @SuppressWarnings("serial")
  private final List<MaterialProblem> problems;

  /**
   * @param problems at least one
   */
  public InvalidMaterial(List<MaterialProblem> problems) {
    super(inWords(problems));
    this.problems = List.copyOf(problems);
  }

  /** Everything that is wrong, in the order of the fields. */
  public List<MaterialProblem> problems() {
    return problems;
  }

  static String inWords(List<MaterialProblem> problems) {
    return problems.stream().map(MaterialProblem::reason).collect(Collectors.joining(" "));
  }
}
