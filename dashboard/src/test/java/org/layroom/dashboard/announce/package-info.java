/** Tests of what is posted to one address of the house. */
@NullMarked
package org.layroom.dashboard.announce;

import org.jspecify.annotations.NullMarked;
