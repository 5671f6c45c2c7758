package org.layroom.dashboard.job;

import java.util.Optional;

/**
 * One step as it was planned.
 *
 * @param id unique within its job
 * @param name what the person calls it; the kind's words where nothing was typed
 * @param material id of the material, where one is mixed and was chosen
 */
public record PlannedJobStep(String id, StepKind kind, String name, Optional<String> material) {}
