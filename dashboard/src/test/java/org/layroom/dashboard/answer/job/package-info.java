/** Tests of the answers. Nobody calls in here. */
@NullMarked
package org.layroom.dashboard.answer.job;

import org.jspecify.annotations.NullMarked;
