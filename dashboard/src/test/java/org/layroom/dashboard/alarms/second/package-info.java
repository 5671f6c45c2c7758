/**
 * The second simulation that the vapor alarm is judged by, {@code sh .ci/alarms --second}. It was
 * written from published facts by somebody who had read neither the alarm's rule nor the first
 * simulation's shops, and its figures were not moved after its first run.
 *
 * <p>Grades beside each figure: PUBLISHED, the source was opened; MEMORY, the source is named but
 * was not opened; CHOICE, this simulation's own, with no authority.
 */
@NullMarked
package org.layroom.dashboard.alarms.second;

import org.jspecify.annotations.NullMarked;
