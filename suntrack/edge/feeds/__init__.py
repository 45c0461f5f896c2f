"""Forecast feeds: asked seldom and one at a time, checked, kept, and never waited for in vain.

    a request -> limits and retries -> the feed's words become our record -> checks -> kept

`suntrack.edge.feeds.service` is the one way in.  A feed's own names and units stay in the
module of that feed; whatever goes wrong becomes a `FeedError` with a sentence for the cook.
"""
