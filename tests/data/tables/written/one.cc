<?xml version="1.0" encoding="UTF-8"?>
<ColorCorrection xmlns="urn:ASC:CDL:v1.2" id="night &amp; day">
  <Description>a &lt;test&gt;</Description>
  <SOPNode>
    <Slope>1.1 1 0.9</Slope>
    <Offset>-0.03 -0.02 0</Offset>
    <Power>1.25 1 0.8</Power>
  </SOPNode>
  <SatNode>
    <Saturation>1.7</Saturation>
  </SatNode>
</ColorCorrection>
