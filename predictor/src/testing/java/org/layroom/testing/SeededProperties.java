package org.layroom.testing;

import net.jqwik.api.lifecycle.AroundPropertyHook;
import net.jqwik.api.lifecycle.PropagationMode;
import net.jqwik.api.lifecycle.PropertyExecutionResult;
import net.jqwik.api.lifecycle.PropertyExecutor;
import net.jqwik.api.lifecycle.PropertyLifecycleContext;

/** Gives each property of jqwik the seed of the run; jqwik has no setting for that. */
public final class SeededProperties implements AroundPropertyHook {
  @Override
  public PropagationMode propagateTo() {
    return PropagationMode.ALL_DESCENDANTS;
  }

  @Override
  public PropertyExecutionResult aroundProperty(
      PropertyLifecycleContext context, PropertyExecutor property) {
    if (context.attributes().seed().isEmpty()) {
      context.attributes().setSeed(Long.toString(Seed.value()));
    }
    return property.execute();
  }
}
