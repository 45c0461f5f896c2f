"""What a cook looks at: wording, blocks of text, charts, the dashboard."""
